"""Solar modules are joined to the input of their controller the wrong way round.

Strings that are joined to each other the wrong way round are told as that.

*Why:* few controllers bear it. The rest of them become a short across the modules, which give what
they give for as long as light falls on them, and no fuse opens.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "array-reversed",
    Severity.DANGER,
    Citation("plus of the modules to plus of the controller's input", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every array whose pole leads to the other pole of an input."""
    arrays = [one for one in study.rig.sources
              if one.traits.by_light and one.plus not in study.shorted]  # fmt: skip
    for controller in study.rig.sources:
        if controller.lit is None:
            continue
        plus, minus = controller.lit
        for array in arrays:
            poles = ((array.plus, minus, "plus", "minus"), (array.minus, plus, "minus", "plus"))
            for pole, end, own, other in poles:
                if end in study.net.walk([pole]):
                    yield RULE.finding(
                        f"`{pole}`, the {own} of `{array.about.name}`, leads to `{end}`, the "
                        f"{other} of the input of `{controller.about.name}`",
                        array.about.span,
                        others=[(controller.about.span, "its input")],
                        fix=Fix(
                            "change the two leads over, in the dark or with the modules covered"
                        ),
                    )
                    break
