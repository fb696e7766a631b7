"""A rig as several circuit diagrams that each fit a page: sources and feeders, then the panels.

What leads from one page to another ends in a mark on either of them; see `scheme_cut`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rigfolio.draw import NoWayError
from rigfolio.job import Job
from rigfolio.model import Conductor, Source
from rigfolio.schematic.cut import numbered
from rigfolio.schematic.leaf import (
    Cross,
    Leaf,
    Pieces,
    Sheet,
    gathered,
    is_source_minus,
    led,
    numbers_of,
    panels_of,
    short_of,
    split,
)
from rigfolio.schematic.order import first_wire, last_wire
from rigfolio.schematic.plan import Drawing, Fits, TooLargeError, drawn
from rigfolio.schematic.rungs import Block, Cut, End, Link, Part, Scheme, Strand, scheme_of
from rigfolio.schematic.tree import Stop, ends_of, loads_of, pruned
from rigfolio.wording import short_end

NARROWEST = 3
_ENOUGH = 6
"""Parts on a page of the source side with which no other order of the parts is tried."""


def sheets_of(job: Job, fits: Fits) -> tuple[Sheet, ...]:
    """The diagrams of a rig, all on one page where that fits.

    A page that cannot be divided and does not fit even in its narrowest form is given as it is.

    Raises
    ------
    NoWayError, rigfolio.render.dot.LayoutError
        As `drawing_of`.
    """
    scheme = scheme_of(job)
    try:
        whole = drawn(job, scheme, 0, fits)
        if fits(whole):
            return (Sheet(whole, ""),)
    except (TooLargeError, NoWayError):
        pass
    try:
        return _Cutter(job, scheme, fits).sheets()
    except NoWayError:
        # Where wires find no way between marks they still find one in the whole diagram.
        return (Sheet(drawn(job, scheme), ""),)


class _Cutter:
    """Divides a scheme until every leaf fits, then draws them."""

    def __init__(self, job: Job, scheme: Scheme, fits: Fits) -> None:
        self.job, self.scheme, self.fits = job, scheme, fits
        self.parts = (*scheme.parts, *scheme.bar_parts)
        self.whole = {b.panel.about.name: b for b in scheme.blocks if b.panel is not None}
        self.panels = frozenset(self.whole)
        self.rows: list[Leaf] = []
        self.rank = {part.name: place for place, part in enumerate(self._outward())}
        self.known: list[tuple[Scheme, int, Drawing | None]] = []
        self.roots = {
            load.about.name: back.root for back in scheme.backs for load in loads_of(back.steps)
        }

    def sheets(self) -> tuple[Sheet, ...]:
        """All pages, with their marks numbered from page to page and from top to bottom."""
        leaves = self._leaves()
        drawings = [self._drawn(leaves, number) for number in range(len(leaves))]
        sheets = gathered(leaves, drawings, self.fits)
        numbers = numbers_of([sheet.drawing for sheet in sheets])
        return tuple(
            Sheet(replace(sheet.drawing, marks=numbered(sheet.drawing.marks, numbers)), sheet.title)
            for sheet in sheets
        )

    def _leaves(self) -> list[Leaf]:
        """The source side divided until it fits, then the blocks in their order."""
        blocks = sorted(self.scheme.blocks, key=lambda block: block.panel is None)
        # Which wires lead to the rows does not turn on how the source side is divided.
        self.rows = self._packed([Leaf(parts=self._ranked(self.parts))], blocks)[1:]
        return [*self._best_fronts(), *self.rows]

    def _best_fronts(self) -> list[Leaf]:
        """The source side on few pages that cut few wires.

        What hangs together follows each other first; other orders are tried while pages are poor.
        """
        ordered = self._in_order()
        low = tuple(part for part in ordered if part.is_minus)
        high = tuple(part for part in ordered if not part.is_minus)
        best: list[Leaf] = []
        for way in (ordered, (*low, *high), self._ranked(ordered)):
            fronts = self._fronts(way)
            best = min(best or fronts, fronts, key=lambda one: (len(one), self._cuts(one)))
            if len(best) == 1 or len(best) * _ENOUGH <= len(ordered):
                break
        return best

    def _cuts(self, fronts: Sequence[Leaf]) -> int:
        """How many wires the pages of the source side cut."""
        return sum(1 for _ in self._crossings([*fronts, *self.rows]))

    def _fronts(self, parts: tuple[Part, ...]) -> list[Leaf]:
        """Parts on as many pages as they need, each page as full as it can be."""
        fronts: list[Leaf] = []
        while parts:
            count = len(parts)
            if count > 1 and not self._is_front(fronts, parts, ()):
                count = self._front(fronts, parts)
            fronts.append(Leaf(parts=self._ranked(parts[:count])))
            parts = parts[count:]
        return fronts

    def _ranked(self, parts: tuple[Part, ...]) -> tuple[Part, ...]:
        """Parts of one page in the order in which they are best laid out."""
        return tuple(sorted(parts, key=lambda part: self.rank[part.name]))

    def _front(self, fronts: list[Leaf], parts: tuple[Part, ...]) -> int:
        """How many of some parts fit one page, at least one."""
        least, most = 1, len(parts)
        while most - least > 1:
            middle = (least + most) // 2
            if self._is_front(fronts, parts[:middle], parts[middle:]):
                least = middle
            else:
                most = middle
        return least

    def _is_front(
        self, fronts: list[Leaf], parts: tuple[Part, ...], later: tuple[Part, ...]
    ) -> bool:
        beyond = [Leaf(parts=later)] if later else []
        trial = [*fronts, Leaf(parts=self._ranked(parts)), *beyond, *self.rows]
        return self._fitted(trial, len(fronts)) is not None

    def _near(self) -> dict[str, list[str]]:
        """The parts next to each part."""
        near: dict[str, list[str]] = {part.name: [] for part in self.parts}
        for link in self.scheme.links:
            if link.a[0] in near and link.b[0] in near:
                near[link.a[0]].append(link.b[0])
                near[link.b[0]].append(link.a[0])
        return near

    def _outward(self) -> tuple[Part, ...]:
        """The minus side and the sources first, then parts as far as they are from sources."""
        near, by_name = self._near(), {part.name: part for part in self.parts}
        far = {p.name: 0 for p in self.parts if p.things and isinstance(p.things[0], Source)}
        waiting = list(far)
        for here in waiting:
            for there in near[here]:
                if there not in far and not by_name[there].is_minus:
                    far[there] = far[here] + 1
                    waiting.append(there)
        return tuple(sorted(self.parts, key=lambda p: -1 if p.is_minus else far.get(p.name, 99)))

    def _in_order(self) -> tuple[Part, ...]:
        """Parts in an order in which those that hang together follow each other."""
        near, by_name = self._near(), {part.name: part for part in self.parts}
        order: dict[str, None] = {}
        for start in by_name:
            waiting = [start]
            while waiting:
                here = waiting.pop()
                if here not in order:
                    order[here] = None
                    waiting += [n for n in near[here][::-1] if not by_name[n].is_minus]
        return tuple(by_name[name] for name in order)

    def _packed(self, leaves: list[Leaf], waiting: list[Block]) -> list[Leaf]:
        """Blocks in their order, as many on a page as fit; a long panel goes on upon the next."""
        held: tuple[Block, ...] = ()
        while waiting:
            block, rest = waiting[0], waiting[1:]
            if self._has_room(leaves, (*held, block), rest):
                held, waiting = (*held, block), rest
            elif held:
                leaves, held = [*leaves, Leaf(blocks=held)], ()
            else:
                first, second = self._part(leaves, block, rest)
                leaves = [*leaves, Leaf(blocks=(first,))]
                waiting = [*([second] if second.strands else []), *rest]
        return [*leaves, Leaf(blocks=held)] if held else leaves

    def _part(self, leaves: list[Leaf], block: Block, rest: list[Block]) -> tuple[Block, Block]:
        """As many slots of a panel as fit one page, at least one, and what is left."""
        least, most = 1, len(block.strands)
        while most - least > 1:
            middle = (least + most) // 2
            upper, lower = split(block, middle)
            if self._has_room(leaves, (upper,), [lower, *rest]):
                least = middle
            else:
                most = middle
        return split(block, least)

    def _has_room(
        self, leaves: list[Leaf], blocks: tuple[Block, ...], rest: Sequence[Block]
    ) -> bool:
        trial = [*leaves, Leaf(blocks=blocks), Leaf(blocks=tuple(rest))]
        return self._fitted(trial, len(leaves)) is not None

    def _fitted(self, leaves: Sequence[Leaf], number: int) -> Drawing | None:
        """A leaf in the widest form that fits; None where none does."""
        for narrow in range(NARROWEST + 1):
            made = self._tried(self._scheme(leaves, number, narrow), narrow)
            if made is not None:
                return made
        return None

    def _tried(self, scheme: Scheme, narrow: int) -> Drawing | None:
        """A scheme drawn in one form, None where it does not fit; each is drawn but once."""
        for known, form, made in self.known:
            if form == narrow and known == scheme:
                return made
        try:
            drawing = drawn(self.job, scheme, narrow, self.fits)
            made = drawing if self.fits(drawing) else None
        except (TooLargeError, NoWayError):
            made = None
        self.known.append((scheme, narrow, made))
        return made

    def _drawn(self, leaves: Sequence[Leaf], number: int) -> Drawing:
        """A leaf in the widest form that fits, else in its narrowest."""
        made = self._fitted(leaves, number)
        return made or drawn(self.job, self._scheme(leaves, number, NARROWEST), NARROWEST)

    def _scheme(self, leaves: Sequence[Leaf], number: int, narrow: int) -> Scheme:
        """What a leaf shows, with marks for all that leads off it."""
        leaf = leaves[number]
        pieces = Pieces(narrow)
        for cross in self._crossings(leaves):
            if cross.leaves[0] == number:
                self._put(pieces, cross, 0)
            if cross.leaves[1] == number:
                self._put(pieces, cross, 1)
        names = {part.name for part in leaf.parts} | panels_of(leaf)
        inner = [x for x in self.scheme.links if x.a[0] in names and x.b[0] in names]
        blocks = tuple(led(block, pieces) for block in self._joined(leaves, number))
        loads = {x.about.name for b in blocks for s in b.strands for x in loads_of(s.steps)}
        # Returns that meet on their way home may begin on several pages: each shows its own.
        ways = [(back, pruned(back.steps, loads)) for back in self.scheme.backs]
        backs = tuple(replace(back, steps=way) for back, way in ways if loads_of(way))
        bars = tuple(pieces.bar_cuts)
        return replace(
            self.scheme, parts=(*leaf.parts, *pieces.parts), links=(*inner, *pieces.links),
            blocks=blocks, backs=backs, bars=bars, bar_cuts=pieces.bar_cuts,
            stop_cuts=pieces.stop_cuts,
        )  # fmt: skip

    def _joined(self, leaves: Sequence[Leaf], number: int) -> Iterator[Block]:
        """The blocks of a leaf, with marks where a panel goes on upon another page."""
        for block in leaves[number].blocks:
            whole = self.whole.get(block.panel.about.name) if block.panel else None
            if block.panel is None or whole is None:
                yield block
                continue
            name, ways = block.panel.about.name, {}
            first, last = block.strands[0].slot, block.strands[-1].slot
            if first > whole.strands[0].slot:
                ways["before"] = Cut(f"bus {name} {first}", is_out=False, words=(f"bus of {name}",))
            if last < whole.strands[-1].slot:
                words = (f"slots from {last + 1} on",)
                ways["after"] = Cut(f"bus {name} {last + 1}", is_out=True, words=words)
            main = block.main if "before" not in ways else None
            yield replace(block, main=main, before=ways.get("before"), after=ways.get("after"))

    def _put(self, pieces: Pieces, cross: Cross, side: int) -> None:
        """One side of what crosses, as its own page shows it."""
        narrow = pieces.narrow if cross.kinds[side] in ("part", "start") else 0
        cut = Cut(cross.key, side == cross.out, cross.words[1 - side], narrow=narrow)
        end = cross.ends[side]
        if cross.kinds[side] == "bar":
            pieces.bar_cuts[end[1]] = cut
        elif cross.kinds[side] == "stop":
            pieces.stop_cuts[cross.key] = cut
        else:
            name = f"cut {cross.key} {side}"
            part = None
            if cross.kinds[side] == "part":
                part = next((p for p in self.parts if p.name == end[0]), None)
            is_after = part is not None and (cut.is_out or end[1] in part.right)
            is_minus = part is not None and (part.is_minus or is_source_minus(part, end[1]))
            lands = (end[1],)
            is_out = is_after or is_minus
            is_flat = part is None
            if is_flat:
                label = f"{cross.wire.name}, " if cross.wire is not None else ""
                cut = replace(cut, words=tuple(f"{label}{x}" for x in cut.words), is_flat=True)
            made = Part(
                name, "cut", (), lands if is_out else (), () if is_out else lands, is_minus, cut
            )
            pieces.parts.append(made)
            if cross.kinds[side] == "start":
                pieces.origins[cross.key] = (name, end[1])
            else:
                here, there = (name, end[1]), end
                ends = (there, here) if is_out else (here, there)
                pieces.links.append(Link(f"cut {cross.key} {side}", *ends, cross.wire))

    def _crossings(self, leaves: Sequence[Leaf]) -> Iterator[Cross]:
        """All that leads from one leaf to another."""
        home = {part.name: n for n, leaf in enumerate(leaves) for part in leaf.parts}
        for number, leaf in enumerate(leaves):
            for panel in panels_of(leaf):
                home.setdefault(panel, number)
        for link in self.scheme.links:
            if home[link.a[0]] != home[link.b[0]]:
                yield self._cross(link.name, link.a, link.b, home, link.wire)
        for number, leaf in enumerate(leaves):
            for strand in (s for block in leaf.blocks for s in block.strands):
                yield from self._of_strand(strand, number, home)
            yield from self._of_bars(leaf, number, home)

    def _cross(
        self, key: str, a: End, b: End, home: dict[str, int], wire: Conductor | None
    ) -> Cross:
        """A wire from part to part; it goes out where it leaves the source side."""
        is_turned = a[0] in self.panels or (b[0] not in self.panels and self._is_left(a))
        return Cross(key, (home[a[0]], home[b[0]]), (a, b), (self._said(a), self._said(b)),
                     ("part", "part"), 1 if is_turned else 0, wire)  # fmt: skip

    def _is_left(self, end: End) -> bool:
        part = next(p for p in self.parts if p.name == end[0])
        return end[1] in part.left and end[1] not in part.right

    def _of_strand(self, strand: Strand, number: int, home: dict[str, int]) -> Iterator[Cross]:
        if strand.origin is not None and home[strand.origin[0]] != number:
            words = (strand.label or strand.name,)
            yield Cross(f"start {strand.name}", (home[strand.origin[0]], number),
                        (strand.origin, strand.origin), (self._said(strand.origin), words),
                        ("part", "start"), 0, first_wire(strand))  # fmt: skip
        for place, step in enumerate(ends_of(strand.steps)):
            item = step.item
            if isinstance(item, Stop) and not item.is_named:
                owner = self.scheme.owners[item.terminal]
                if home[owner] != number:
                    end = (owner, item.terminal)
                    yield Cross(f"{strand.name}|{place}", (number, home[owner]), (end, end),
                                ((strand.name,), self._said(end)[-1:]), ("stop", "part"), 0,
                                last_wire(strand.steps, place))  # fmt: skip

    def _of_bars(self, leaf: Leaf, number: int, home: dict[str, int]) -> Iterator[Cross]:
        loads = [x for b in leaf.blocks for s in b.strands for x in loads_of(s.steps)]
        roots = dict.fromkeys(self.roots.get(load.about.name, "") for load in loads)
        for root in roots:
            if root and root not in self.scheme.frames:
                end = (self.scheme.owners[root], root)
                if home[end[0]] != number:
                    words = (f"returns of {short_of(leaf)}",)
                    yield Cross(f"bar {number} {root}", (number, home[end[0]]), (end, end),
                                (words, (end[0],)), ("bar", "part"), 0, None)  # fmt: skip

    def _said(self, end: End) -> tuple[str, ...]:
        """What lies at an end: the part with its label, and its name alone."""
        if end[0] in self.panels:
            return (f"feeder of {end[0]}",)
        part = next(p for p in self.parts if p.name == end[0])
        thing = part.things[0] if part.things else None
        name = thing.about.name if thing else short_end(self.job.rig, end[0])
        label = thing.about.label if thing else ""
        return (f"{name} {label}", name) if label else (name,)
