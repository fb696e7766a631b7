"""Figures of the trade that stand in where a text leaves them open."""

from rigfolio.books.tables import Limit, limit, read, table


def inverter_efficiency() -> Limit:
    """AC watts over DC watts of an inverter whose maker gives no figure [-]."""
    return limit(table(read("practice"), "inverter"))
