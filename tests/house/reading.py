"""Sources as the checks of the house read them: each text is parsed and walked through once."""

import ast

from helpers.forgotten import cache


@cache
def nodes_of(code: str) -> tuple[ast.AST, ...]:
    """All nodes of a piece of code, in the order in which `ast.walk` comes to them."""
    return tuple(ast.walk(ast.parse(code)))
