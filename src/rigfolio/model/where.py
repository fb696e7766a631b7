"""What each terminal is, in words for a person at the panel."""

from rigfolio.model.graph import Device, Load, Rig


def where_is(rig: Rig) -> dict[str, str]:
    """A wording for every terminal that a wire can land on."""
    words: dict[str, str] = {panel.feed: f"{panel.about.name} feed" for panel in rig.panels}
    words |= {f"{panel.feed}-": f"{panel.about.name} negative bar" for panel in rig.panels
              if panel.negative == f"{panel.feed}-"}  # fmt: skip
    for source in rig.sources:
        words |= {end: _labelled(end, source.about.label) for end in (source.plus, source.minus)}
    for device in rig.devices:
        _device(device, words)
    for junction in rig.junctions:
        words[junction.terminal] = _labelled(junction.terminal, junction.about.label)
    for load in rig.loads:
        _load(load, words)
    for circuit in rig.circuits:
        for name in (*circuit.wires, *circuit.returns):
            wire = rig.by_name.conductors.get(name)
            for end in (wire.a, wire.b) if wire else ():
                words.setdefault(end, f"joint in {circuit.label or circuit.place}")
    return words


def _device(device: Device, words: dict[str, str]) -> None:
    if device.in_slot:
        words[device.load] = f"{device.about.name} {device.about.label}".strip()
        return
    for end in (device.line, device.load):
        words.setdefault(end, _labelled(end.replace(".fuse", " fuse"), device.about.label))


def _load(load: Load, words: dict[str, str]) -> None:
    label = load.about.label or load.about.name
    for end, sign in ((load.plus, "+"), (load.minus, "-")):
        known = words.get(end)
        if known is None:
            words[end] = f"{label} {sign}"
        elif known.endswith(f" {sign}") and label not in known:
            words[end] = f"{known[:-2]}; {label} {sign}"


def _labelled(name: str, label: str) -> str:
    return f"{name} {label}" if label else name
