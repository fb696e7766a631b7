"""The panel in the hand: a rig as one HTML file for a telephone, and the same renewed at a desk.

It asks the homes of the answers and works nothing out. What it is told is one typed record, from
which both its JSON and its HTML are made. It may not know commands.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.page.desk import (
        WatchedRig as WatchedRig,
    )
    from rigfolio.page.document import (
        page_html as page_html,
    )
    from rigfolio.page.gather import (
        rig_page as rig_page,
    )
    from rigfolio.page.objects import (
        page_json as page_json,
    )
    from rigfolio.page.server import (
        served as served,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        desk="WatchedRig",
        document="page_html",
        gather="rig_page",
        objects="page_json",
        server="served",
    )
