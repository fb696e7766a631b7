"""The rig as a graph, the draft that a text makes, and how one becomes the other.

It knows names and terminals. It may not judge or measure.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.model.asides import (
        OPENS as OPENS,
        About as About,
        AcBreaker as AcBreaker,
        Acceptance as Acceptance,
        Circuit as Circuit,
        EndNames as EndNames,
        Gap as Gap,
        Modules as Modules,
        Panel as Panel,
        Photo as Photo,
        PhotoMark as PhotoMark,
        Problem as Problem,
        Slot as Slot,
        State as State,
    )
    from rigfolio.model.assembly import (
        build as build,
    )
    from rigfolio.model.draft import (
        Broken as Broken,
        CircuitSaid as CircuitSaid,
        Draft as Draft,
        End as End,
        FuseSaid as FuseSaid,
        LoadSaid as LoadSaid,
        NoteSaid as NoteSaid,
        PanelSaid as PanelSaid,
        ReturnSaid as ReturnSaid,
        RigSaid as RigSaid,
        RunSaid as RunSaid,
        SeriesSaid as SeriesSaid,
        SlotSaid as SlotSaid,
        WireFacts as WireFacts,
        WireSaid as WireSaid,
    )
    from rigfolio.model.graph import (
        Conductor as Conductor,
        Device as Device,
        Junction as Junction,
        Load as Load,
        LoadKind as LoadKind,
        Rig as Rig,
        Source as Source,
    )
    from rigfolio.model.parts import (
        fitted_now as fitted_now,
        found_in as found_in,
        in_place as in_place,
        is_found_larger as is_found_larger,
        is_found_thinner as is_found_thinner,
        is_other as is_other,
        is_other_found as is_other_found,
        larger_of as larger_of,
        thinner_of as thinner_of,
    )
    from rigfolio.model.reading import (
        Done as Done,
        Log as Log,
        Measure as Measure,
        PartKind as PartKind,
        Reading as Reading,
        Symptom as Symptom,
        Unplaced as Unplaced,
    )
    from rigfolio.model.wire_names import (
        either_order as either_order,
        wire_number as wire_number,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        assembly="build",
        draft="Broken CircuitSaid Draft End FuseSaid LoadSaid NoteSaid PanelSaid ReturnSaid "
        "RigSaid RunSaid SeriesSaid SlotSaid WireFacts WireSaid",
        graph="Conductor Device Junction Load LoadKind Rig Source",
        asides="OPENS About AcBreaker Acceptance Circuit EndNames Gap Modules Panel Problem Photo "
        "PhotoMark Slot State",
        parts="fitted_now found_in in_place is_found_larger is_found_thinner is_other "
        "is_other_found larger_of thinner_of",
        reading="Done Log Measure PartKind Reading Symptom Unplaced",
        wire_names="either_order wire_number",
    )
