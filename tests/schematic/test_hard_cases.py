"""Rigs that nobody would build, and machines that lack something: a drawing or a plain message."""

import subprocess
import sys

import pypdfium2
import pytest

import rigfolio.schematic
from helpers.diagram_checks import faults
from helpers.forgotten import cache
from helpers.home import EXAMPLES, environment
from helpers.schematic_rigs import many_batteries, tangle, web
from helpers.studies import job_from
from rigfolio.cli.entry import main
from rigfolio.render import dot
from rigfolio.schematic import composer
from rigfolio.schematic.chains import graph_of
from rigfolio.schematic.ordering.program import Program
from rigfolio.schematic.sheet import diagram

SOUND = {"overlap": 0, "struck": 0, "bend": 0, "off": 0, "small": 0, "lost": 0}
NAMES = ("marsh-wren-17", "heron-van", "kittiwake-30", "lapwing-cabin")


def asked(tmp_path, text, capsys, form="pdf"):
    """What `draw` gives of a text: status, the words that it prints, the file if there is one."""
    source, made = tmp_path / "hard.rig", tmp_path / f"hard.{form}"
    source.write_text(text, encoding="utf-8")
    status = main(["draw", str(source), "--format", form, "-o", str(made)])
    printed = capsys.readouterr()
    return status, printed.out + printed.err, made if made.exists() else None


def words_of(file):
    pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(file)]
    return " ".join(" ".join(pages).split())


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ('rig "Bare"\n', "Schematic"),
        ('rig "Bare"\nbattery B1 "House" 100 Ah agm\n', "B1 House"),
        ('rig "Bare"\npanel P1 "Panel" 4 slots, pitch 3 mm\n', "P1 Panel"),
        (many_batteries(60), "B60 Bank 60"),
        (web(12, 66), "B1 Bank"),
        (tangle(47), "circuit"),
    ],
    ids=["no part", "one part", "fine pitch", "batteries", "web", "tangle"],
)
def test_a_hard_rig_is_drawn(tmp_path, capsys, text, shown):
    assert_drawn(tmp_path, capsys, text, shown)


def assert_drawn(tmp_path, capsys, text, shown):
    status, said, made = asked(tmp_path, text, capsys)
    assert status in (0, 1), said
    assert "bug" not in said
    assert made is not None
    assert shown.casefold() in words_of(made).casefold()


def test_a_name_used_twice_is_drawn_and_said_to_be_a_fault(tmp_path, capsys):
    text = 'rig "T"\nbattery B1 "Old" 100 Ah agm\nload B1 "New" 2 A\n'
    status, said, made = asked(tmp_path, text, capsys)
    assert status in (0, 1)
    assert "1 fault" in said
    assert {"Old", "New"} <= {*words_of(made).split()}


def test_a_dense_web_is_drawn_and_sound_within_its_steps(tmp_path, capsys, monkeypatch):
    # Steps and not seconds: five seconds of an ordinary processor, on any machine the same drawing.
    spent, seen = [], []
    kept = composer.Composer.drawing

    def counted(self, *given, **more):
        made = kept(self, *given, **more)
        spent.append(self.left)
        return made

    def looked_at(job, *more):
        made = diagram(job, *more)
        seen.append((job, made))
        return made

    monkeypatch.setattr(composer.Composer, "drawing", counted)
    monkeypatch.setattr(rigfolio.schematic, "diagram", looked_at)
    assert_drawn(tmp_path, capsys, web(30, 200), "B1 Bank")
    ((job, made),) = seen
    assert len(graph_of(job).rungs) > 200
    found = faults(job, made)
    assert {kind: found[kind] for kind in SOUND} == SOUND
    assert min(spent) < 0
    # What is drawn once all is spent is a page and nothing else.
    assert min(spent) > -len(made.pages) * 8 * 1_500 * 40


def without(monkeypatch, *, graphviz=False, solver=False):
    """A machine that lacks one or the other."""
    dot.forget()
    if graphviz:
        monkeypatch.setenv(dot.PROGRAM_VARIABLE, "no-such-program-at-all")
    if solver:
        monkeypatch.setitem(sys.modules, "highspy", None)


@cache
def whole_diagram(name):
    """The diagram of an example, as a machine draws it that lacks nothing."""
    return diagram(job_from(EXAMPLES / f"{name}.rig"))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("lacking", ["graphviz", "solver"])
def test_what_is_missing_costs_beauty_and_nothing_else(monkeypatch, name, lacking):
    job, whole = job_from(EXAMPLES / f"{name}.rig"), whole_diagram(name)
    without(monkeypatch, **{lacking: True})
    made = diagram(job)
    assert {kind: n for kind, n in faults(job, made).items() if n} == {}
    assert sum(drawing.crossings for drawing in made.drawings) <= 1
    assert len(made.pages) <= len(whole.pages) + 1


def test_the_command_works_without_either(tmp_path):
    code = (
        "import sys; sys.modules['highspy'] = None\n"
        "from rigfolio.cli.entry import main\n"
        f"sys.exit(main(['draw', {str(EXAMPLES / 'lapwing-cabin.rig')!r}, '-o', 'cabin.svg']))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False,
        env=environment(RIGFOLIO_DOT="no-such-program-at-all"),
    )  # fmt: skip
    assert done.returncode in (0, 1), done.stderr
    assert (tmp_path / "cabin.svg").stat().st_size > 10_000


def test_places_without_a_solver_are_feasible_and_nearly_as_good(monkeypatch):
    def program():
        made = Program()
        for n in range(30):
            made.apart(n, (7 * n) % 30 + 30, 2.0 + n % 5)
            made.apart((11 * n) % 30, n + 60, 4.0)
            made.apart(n + 60, (3 * n) % 30 + 30, 1.0 + n % 3)
            made.cost(n, -1.0 - n % 2)
            made.cost(n + 30, 1.5)
            made.cost(n + 60, 0.2 * (n % 3 - 1))
        return made

    def cost(made, at):
        return sum(c * x for c, x in zip(made.costs, at, strict=True))

    best = program().best(0.0, 90.0)
    without(monkeypatch, solver=True)
    own = program()
    found = own.best(0.0, 90.0)
    assert all(found[j] - found[i] >= gap - 1e-6 for (i, j), (gap, _) in own.gaps.items())
    assert all(-1e-6 <= x <= 90.0 + 1e-6 for x in found)
    start = cost(own, own.least())
    assert cost(own, found) - cost(own, best) <= 0.05 * (start - cost(own, best))
