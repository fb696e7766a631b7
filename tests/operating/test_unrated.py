"""A circuit of which nobody knows the fuse: measured for a short, and not brought live."""

from helpers.hut import HUT
from rigfolio.judgement.result import understood
from rigfolio.operating import short_stages, stages

RIG = f"""\
{HUT}circuit P1.2 "Riddle" fuse ? A
    wire 14 AWG blue 9 ft
    load "not known yet" {{draws}} A
"""


def test_a_riddle_is_measured_for_a_short_and_read_nowhere_else() -> None:
    for draws in ("?", "3"):
        study = understood("hut.rig", text=RIG.format(draws=draws)).study
        assert study is not None
        for made in (stages(study), short_stages(study)):
            read = {s.title: [p for step in s.steps for p in step.points if "P1.2" in (p.a, p.b)]
                    for s in made}  # fmt: skip
            assert len(read.pop("Ohms, all fuses out")) == 1
            assert not any(read.values())
        (circuits,) = [s for s in short_stages(study) if s.title.startswith("Each circuit")]
        (step,) = [step for step in circuits.steps if step.circuit == "P1.2"]
        assert step.points == ()
        assert "Riddle" not in "".join(s.do for one in stages(study)[1:] for s in one.steps)
