"""The page at the desk: the text is looked at for changes, judged anew, and told part by part.

First what was found and the faces, then the diagram, then the rest. While the text is not
understood, what was drawn last stays, and the page says so.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path
from threading import Condition, Event
from types import MappingProxyType

from rigfolio.answers import live_report, log_path, logged
from rigfolio.folio import taken
from rigfolio.job import Job
from rigfolio.judgement import Result, check, job_of, tried_for_print
from rigfolio.page.cards import Cards
from rigfolio.page.content import PanelFace, RigFacts
from rigfolio.page.document import (
    Sections,
    card_sections,
    diagram_section,
    first_sections,
    other_sections,
    photograph_section,
    told_of_diagram,
    told_of_test,
    waiting_sections,
    whole_html,
)
from rigfolio.page.drawing import diagram_of
from rigfolio.page.faces import faces_of
from rigfolio.page.findings import findings_of
from rigfolio.page.gather import cautions, dead_reports, markable, photographs_of, rig_facts
from rigfolio.page.objects import as_value
from rigfolio.page.places import Texts
from rigfolio.page.readings import readings_of
from rigfolio.record import record, replace
from rigfolio.refusal import RefusalError
from rigfolio.reports import clean
from rigfolio.wording import found_words, how_many, verdict_words

_LOOK_S, _SETTLE_S, _AGAIN_S = 0.03, 0.015, 1.0
"""From one look at the files to the next; how long they have to stay as they are; when a text that
is not understood is judged again [s]."""
_NONE = (0, None)
Stamp = tuple[int, int, int] | None
_NO_STAMPS: Mapping[str, Stamp] = MappingProxyType({})
Part = tuple[Sections, Mapping[str, object], str]


@record
class Renewal:
    """What has changed behind a number: sections as HTML, what scripts are told, and the state."""

    number: int
    sections: Mapping[str, str]
    told: Mapping[str, object]
    state: str


class WatchedRig:
    """The page of a rig file that is being written.

    `file` is its path, `book` a rule book instead of its own. `run` looks at it until it is
    stopped; all else may be asked from any thread.
    """

    def __init__(self, file: str, book: str = "") -> None:
        self.file, self.book = file, book
        self._changed = Condition()
        self._number = 0
        self._sections: dict[str, tuple[int, str]] = {}
        self._told: dict[str, tuple[int, object]] = {}
        self._state = ""
        self._rig = RigFacts(Path(file).stem, file, 0.0, "", "", "", "", "")
        self._files: tuple[str, ...] = (file,)
        self._is_stopped = self._is_broken = False
        self._put(waiting_sections(), {"rig": as_value(self._rig), "points": [], "blanks": [],
                                       "drawn": []}, "")  # fmt: skip

    def html(self) -> str:
        """The page as it is now."""
        with self._changed:
            sections = {name: html for name, (_, html) in self._sections.items()}
            told = {name: value for name, (_, value) in self._told.items()}
            told["number"] = self._number
            state, rig = self._state, self._rig
        return whole_html(rig, cautions(), sections, told, state=state, at_desk=True)

    def since(self, number: int, patience_s: float) -> Renewal | None:
        """What came behind a number, or None after so long a wait [s], or once it is stopped."""
        with self._changed:
            self._changed.wait_for(lambda: self._number != number or self._is_stopped, patience_s)
            if self._number == number or self._is_stopped:
                return None
            later = number if number <= self._number else 0
            return Renewal(
                self._number,
                {name: html for name, (when, html) in self._sections.items() if when > later},
                {name: value for name, (when, value) in self._told.items() if when > later},
                self._state,
            )

    @property
    def is_stopped(self) -> bool:
        """Whether nobody looks at the file any more."""
        return self._is_stopped

    def run(self, stop: Event) -> None:
        """Look at the files until told to stop, and renew the page whenever one has changed.

        A text that was not understood is judged again now and then: what it lacks may be a file
        that is not there yet.
        """
        seen: Mapping[str, Stamp] = {}
        waited_s = 0.0
        while not stop.is_set():
            now = self._stamps()
            if now != seen or (self._is_broken and waited_s > _AGAIN_S):
                while not stop.wait(_SETTLE_S) and now != (later := self._stamps()):
                    now = later
                self._renew(now)
                seen = self._stamps(now)
                waited_s = 0.0
            stop.wait(_LOOK_S)
            waited_s += _LOOK_S
        with self._changed:
            self._is_stopped = True
            self._changed.notify_all()

    def _stamps(self, known: Mapping[str, Stamp] = _NO_STAMPS) -> Mapping[str, Stamp]:
        """A stamp of each file: as it is known, else as it is now."""
        return {name: known.get(name) or _stamp(name) for name in self._files}

    def _renew(self, now: Mapping[str, Stamp]) -> None:
        """Judge the text as it is now; whatever goes wrong is said on the page."""
        try:
            for sections, told, state in self._parts():
                self._put(sections, told, state)
                if self._stamps() != self._stamps(now):
                    return
        except RefusalError as refusal:
            self._put({}, {}, f"{refusal.headline}: {refusal.fix}")
        except Exception as problem:  # noqa: BLE001
            what = clean(f"{type(problem).__name__}: {problem}")[:300]
            self._put({}, {}, f"rigfolio has a bug, and this page is not renewed: {what}")

    def _parts(self) -> Iterator[Part]:
        """What is told in turn: sections, what the scripts are told, the state of the page."""
        result = check(self.file, self.book)
        self._is_broken = result.study is None
        texts = Texts(result.texts, result.file)
        if result.study is None:
            self._files = tuple(dict.fromkeys((*self._files, *result.texts)))
            yield self._broken(result, texts)
            return
        job = job_of(result)
        self._files = _read_for(result, job)
        findings = findings_of(result, texts)
        faces = faces_of(job, texts, findings)
        verdict = verdict_words(job.rig.book, result.findings)
        self._rig = rig_facts(job, result.file)
        first = first_sections(self._rig, verdict, findings, faces)
        yield first, {"rig": as_value(self._rig)}, ""
        drawn = diagram_of(job)
        yield {"diagram": diagram_section(drawn)}, told_of_diagram(drawn), ""
        yield from self._rest(result, texts, job, faces)

    def _rest(
        self, result: Result, texts: Texts, job: Job, faces: tuple[PanelFace, ...]
    ) -> Iterator[Part]:
        """Cards, steps, test sheet; then pictures and ways out, which take longest."""
        job, state = _with_log(result, job)
        test, cards = readings_of(job), Cards(job, texts)
        sections = {
            **card_sections(cards.circuits(test), cards.wires(), cards.parts(), faces),
            **other_sections(dead_reports(job), live_report(job.study), test, self._rig),
        }
        yield sections, told_of_test(test), state
        result = tried_for_print(result)
        findings = findings_of(result, texts)
        verdict = verdict_words(job.rig.book, result.findings)
        yield first_sections(self._rig, verdict, findings, faces), {}, state
        job = replace(job, pictures=taken(result))
        yield photograph_section(photographs_of(job), markable(job)), {}, state

    def _broken(self, result: Result, texts: Texts) -> Part:
        """The errors of a text that is not understood; nothing else is told anew."""
        findings = findings_of(result, texts)
        words = f"The text is not understood: {found_words(result.findings)}."
        drawn = " What is drawn below is of the text as it last was." if self._rig.digest else ""
        sections = first_sections(self._rig, words, findings, ())
        kept = {name: sections[name] for name in ("verdict", "findings")}
        return kept, {}, f"{words}{drawn}"

    def _put(self, sections: Sections, told: Mapping[str, object], state: str) -> None:
        """Keep what has changed, and wake those who wait for it."""
        with self._changed:
            number = self._number + 1
            new = {
                n: html for n, html in sections.items() if self._sections.get(n, _NONE)[1] != html
            }
            more = {n: value for n, value in told.items() if self._told.get(n, _NONE)[1] != value}
            if not new and not more and state == self._state:
                return
            self._sections |= {name: (number, html) for name, html in new.items()}
            self._told |= {name: (number, value) for name, value in more.items()}
            self._state = state
            self._number = number
            self._changed.notify_all()


def _stamp(name: str) -> Stamp:
    """What tells whether a file has changed: None where there is none."""
    try:
        found = Path(name).stat()
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def _read_for(result: Result, job: Job) -> tuple[str, ...]:
    """The files that a page was made from: texts, log, photographs."""
    folder = Path(result.file).parent
    photos = (str(folder / photo.file) for photo in job.rig.photos)
    return tuple(dict.fromkeys((*result.texts, str(log_path(result.file)), *photos)))


def _with_log(result: Result, job: Job) -> tuple[Job, str]:
    """What the sheets are given with the log; where that is not understood, what to say of it."""
    heard = logged(result)
    if heard.found:
        name = log_path(result.file).name
        return job, f"The log is not understood and left aside: `rigfolio log` says why ({name})."
    many = len(heard.log.unplaced)
    state = (
        f"{how_many(many, 'entry')} of the log left aside: `rigfolio log` says why." if many else ""
    )
    return replace(job, log=heard.log), state
