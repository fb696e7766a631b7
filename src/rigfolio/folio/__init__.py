"""The documents of a rig: rendered, bound, linked, written whole or not at all.

It knows sheets by their modules. It may not know what they say.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.folio.attached import (
        kept_apart as kept_apart,
        taken_out as taken_out,
    )
    from rigfolio.folio.documents import (
        beyond as beyond,
        bound as bound,
        chosen as chosen,
        drawing as drawing,
        folio as folio,
        rulers as rulers,
        sheet as sheet,
        some as some,
        taped as taped,
    )
    from rigfolio.folio.made import (
        SVG_REMARK as SVG_REMARK,
        as_drawing as as_drawing,
        beside_others as beside_others,
    )
    from rigfolio.folio.photographs import (
        taken as taken,
    )
    from rigfolio.folio.places import (
        form_of as form_of,
        is_one_file as is_one_file,
        placed as placed,
        spare as spare,
    )
    from rigfolio.folio.versions import (
        compared as compared,
        understood as understood,
        version as version,
    )
    from rigfolio.folio.writing import (
        write_all as write_all,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        attached="kept_apart taken_out",
        documents="beyond bound chosen drawing folio rulers sheet some taped",
        made="SVG_REMARK as_drawing beside_others",
        photographs="taken",
        places="form_of is_one_file placed spare",
        versions="compared understood version",
        writing="write_all",
    )
