"""Drawing lists and tables as files: PDF, SVG, PNG, photographs and codes.

Each third-party package that writes or reads one has its door here. A renderer knows pages and
marks, and nothing of rigs.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.render.archive import (
        MAKER as MAKER,
        SHA_256 as SHA_256,
        Attached as Attached,
        Binding as Binding,
        Entry as Entry,
    )
    from rigfolio.render.csv_text import (
        LargeError as LargeError,
        StoredTable as StoredTable,
        first_row as first_row,
        read_csv as read_csv,
        read_grid as read_grid,
        write_csv as write_csv,
    )
    from rigfolio.render.dot import (
        LayoutError as LayoutError,
        Link as Link,
        Node as Node,
        NodeBox as NodeBox,
        NodeEdge as NodeEdge,
        graph_text as graph_text,
        place as place,
    )
    from rigfolio.render.image import (
        LARGEST_PIXELS as LARGEST_PIXELS,
        write_bitmap as write_bitmap,
        write_png as write_png,
    )
    from rigfolio.render.pdf import (
        write_pdf as write_pdf,
    )
    from rigfolio.render.photograph import (
        LARGEST_BYTES as LARGEST_BYTES,
        Photograph as Photograph,
    )
    from rigfolio.render.qr import (
        Matrix as Matrix,
        matrix as matrix,
        modules as modules,
    )
    from rigfolio.render.svg import (
        write_svg as write_svg,
    )
    from rigfolio.render.workbook import (
        is_workbook as is_workbook,
        read_workbook as read_workbook,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        archive="MAKER SHA_256 Attached Binding Entry",
        csv_text="LargeError StoredTable first_row read_csv read_grid write_csv",
        dot="LayoutError Link Node NodeBox NodeEdge graph_text place",
        image="LARGEST_PIXELS write_bitmap write_png",
        pdf="write_pdf",
        photograph="LARGEST_BYTES Photograph",
        qr="Matrix matrix modules",
        svg="write_svg",
        workbook="is_workbook read_workbook",
    )
