"""What is held back as a step of the work, and in which words."""

import re

from rigfolio.findings import Finding
from rigfolio.isolation import source_reach
from rigfolio.model import Load, Source
from rigfolio.network import own_edges
from rigfolio.operating import Stage, StageStep, stages_of
from rigfolio.record import replace
from rigfolio.shorts import barred_words, is_barred
from rigfolio.study import Study
from rigfolio.swap.held.by_danger import barred, dangers_at, part_of, stopped
from rigfolio.wording import PanelPlaces, goes_words, on_paper

ANEW = "print anew once that is put right"
"""What is done before it is put to use."""
NOT_READ = "no reading before that is put right: print anew then"
"""Stands behind what is not put to use as it is."""


def held_back(study: Study, step: StageStep) -> StageStep:
    """A step as it is taken: what has a danger on its own way is not run, and not read."""
    held = stopped(study)
    fed_by = (c.place for one in step.fits for c in study.rig.begun.get(one.about.name, ()))
    danger = next((held[one] for one in (step.circuit, step.of, *fed_by) if one in held), None)
    is_run = bool(step.fits) or any(point.on for point in step.points)
    if danger is None or not is_run or any(is_barred(study, one) for one in step.fits):
        return step
    goes = next((f": {goes_words(one)}" for one in step.fits), "")
    do = step.do.removesuffix(goes)
    words = on_paper(f"{do}: STAYS DEAD: {_told_at(study, danger, do)}; {NOT_READ}")
    return replace(step, do=words, points=(), fits=())


def kept_out_words(study: Study, stage: Stage) -> str:
    """What does not go in and is the fuse of no circuit or feed: no step tells of it."""
    told = {one.about.name for step in stage.steps for one in step.fits} | set(study.rig.begun)
    out = {
        one.about.name: f" {one.about}: {barred_words(study, one)}."
        for one in study.rig.devices
        if one.about.name not in told and is_barred(study, one)
    }
    return on_paper("".join(out.values()))


def _told_at(study: Study, danger: Finding, do: str) -> str:
    """A danger, with its place where neither what is done nor its own words say that."""
    at = PanelPlaces(study.rig).at(danger.at.span)
    is_said = not at or re.split(r"[\s,:]", at)[0] in f"{do} {danger.headline}"
    return danger.headline if is_said else f"{at}: {danger.headline}"


def stays_dead(study: Study, end: str) -> bool:
    """Whether a terminal is behind what stays out or off until something is mended."""
    return stages_of(study, barred(study)).live.stays_dead(end)


def not_on_words(study: Study, name: str) -> str:
    """Why a source is not started or a device not put in, by name; empty of what may be.

    A source would run without a battery, or make leads live that are a danger; a battery is put on.
    """
    device = study.device(name)
    if device is not None:
        return on_paper(barred_words(study, device)) if is_barred(study, device) else ""
    source = study.rig.by_name.sources.get(name)
    if source is None or source.stores:
        return ""
    posts = (source_reach(study).inputs.get(name, source.plus), source.plus)
    dead = frozenset(end for end in posts if stays_dead(study, end))
    held = [study.device(out) for out in stages_of(study, barred(study)).use.first_out(dead)]
    out = [f"{d.about}: {barred_words(study, d)}" for d in held if d and is_barred(study, d)]
    danger = _danger_of(study, source)
    if not dead and danger is None:
        return ""
    told = "" if danger is None else _told_at(study, danger, str(source.about))
    why = "; ".join(dict.fromkeys(out)) or told or "what it hangs on stays dead"
    return on_paper(f"STAYS OFF: {why}")


def _danger_of(study: Study, source: Source) -> Finding | None:
    """A danger of a source itself, or on what nothing but it hangs on."""
    at, rig = dangers_at(study), study.rig
    if source.inlet in stopped(study):
        return stopped(study)[source.inlet]
    banks = [one for one in rig.sources if one.stores]
    others: list[Load | Source] = [*rig.loads]
    others += (o for o in rig.sources if o is not source and not o.stores)
    plus = own_edges(study.net, source.plus, [b.plus for b in banks], [o.plus for o in others])
    minus = own_edges(study.net, source.minus, [b.minus for b in banks], [o.minus for o in others])
    way = (*plus, *minus)
    return next((at[one] for one in (str(source.about), *map(part_of, way)) if one in at), None)
