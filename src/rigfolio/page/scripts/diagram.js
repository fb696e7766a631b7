/* The diagram: pinch and buttons enlarge, a tap or the keys light a part up. */
const Diagram = (() => {
  const LEAST = 1;
  const MOST = 12;
  const STEP = 1.4;
  const SVG = "http://www.w3.org/2000/svg";
  let lit = { key: "", wire: "" };

  const rooms = () => [...document.querySelectorAll(".drawing")];
  const groups = (room) => [...room.querySelectorAll(".live-part")];
  const scale = (room) => Number(room.dataset.scale || 1);

  /* Enlarge a drawing so that the point (x, y) of its room stays where it is. */
  const zoom = (room, wanted, x = room.clientWidth / 2, y = room.clientHeight / 2) => {
    const next = Math.min(MOST, Math.max(LEAST, wanted));
    const by = next / scale(room);
    const [left, top] = [(room.scrollLeft + x) * by - x, (room.scrollTop + y) * by - y];
    room.dataset.scale = String(next);
    room.querySelector("svg").style.width = `${next * 100}%`;
    room.scrollTo({ left, top, behavior: "instant" });
  };

  /* Make the groups that have a card ones that can be tapped and reached by keys. */
  const attach = () => {
    for (const room of rooms()) {
      if (room.dataset.ready) continue;
      room.dataset.ready = "1";
      const keys = new Map(Told.drawn(Number(room.dataset.page)).map((one) => [one.drawn, one.key]));
      for (const group of room.querySelectorAll(".part")) {
        const key = keys.get(group.dataset.name);
        if (!key) continue;
        group.classList.add("live-part");
        group.dataset.key = key;
        group.setAttribute("tabindex", "-1");
        group.setAttribute("role", "button");
      }
      if (room.dataset.scale) zoom(room, scale(room));
    }
    light(lit.key, lit.wire);
  };

  const halo = (group) => {
    const made = document.createElementNS(SVG, "g");
    made.classList.add("halos");
    made.setAttribute("aria-hidden", "true");
    for (const one of group.querySelectorAll("polyline, polygon, circle")) {
      const copied = one.cloneNode(false);
      for (const name of ["stroke", "stroke-width", "fill", "stroke-dasharray"])
        copied.removeAttribute(name);
      copied.classList.add("halo");
      made.append(copied);
    }
    const title = group.querySelector(":scope > title");
    if (title) title.after(made);
    else group.prepend(made);
  };

  /* Light up all that belongs to a key; of a wire that is named, that one alone. */
  const light = (key, wire) => {
    lit = { key, wire };
    for (const one of document.querySelectorAll(".halos")) one.remove();
    for (const one of document.querySelectorAll(".live-part.lit")) one.classList.remove("lit");
    if (!key) return;
    for (const room of rooms())
      for (const group of groups(room))
        if (wire ? group.dataset.name === wire : group.dataset.key === key) {
          group.classList.add("lit");
          halo(group);
        }
  };

  const has = (key) => rooms().some((room) => groups(room).some((one) => one.dataset.key === key));

  /* Bring what is lit into sight, large enough to be read. */
  const look = (key) => {
    for (const room of rooms()) {
      const goal = groups(room).find((one) => one.classList.contains("lit") && one.dataset.key === key);
      if (!goal) continue;
      room.scrollIntoView({ block: "start" });
      if (scale(room) < 3 && room.clientWidth < 700) zoom(room, 3);
      const [here, there] = [room.getBoundingClientRect(), goal.getBoundingClientRect()];
      room.scrollBy({
        left: there.left + there.width / 2 - here.left - here.width / 2,
        top: there.top + there.height / 2 - here.top - here.height / 3,
        behavior: "instant",
      });
      return;
    }
  };

  const choose = (group) => {
    const named = group.dataset.name;
    const card = group.dataset.key;
    const source = [...document.querySelectorAll("main .card .wire")].some(
      (one) => one.dataset.wire === named && one.closest(".card").dataset.key === card,
    );
    Hand.show(card, { wire: source ? named : "" });
  };

  /* A tap on white space near a wire means the wire: a finger is wider than a line. */
  const near = (room, x, y) => {
    const REACH = 14;
    let best = null;
    let least = REACH;
    for (const group of groups(room))
      for (const one of group.querySelectorAll("polyline, polygon, circle, text")) {
        const box = one.getBoundingClientRect();
        const across = Math.max(box.left - x, 0, x - box.right);
        const down = Math.max(box.top - y, 0, y - box.bottom);
        const away = Math.hypot(across, down);
        if (away < least) [best, least] = [group, away];
      }
    return best;
  };

  document.addEventListener("click", (event) => {
    const room = event.target.closest(".drawing");
    const button = event.target.closest("[data-zoom]");
    if (button) {
      const goal = button.closest("figure").querySelector(".drawing");
      zoom(goal, button.dataset.zoom === "whole" ? 1 : scale(goal) * Number(button.dataset.zoom));
    } else if (room) {
      const hit = event.target.closest(".live-part") || near(room, event.clientX, event.clientY);
      if (hit) choose(hit);
    }
  });

  const walk = (room, by) => {
    const all = groups(room);
    if (!all.length) return;
    const at = all.indexOf(document.activeElement);
    const next = all[(at + by + all.length) % all.length] || all[0];
    next.focus();
  };

  document.addEventListener("keydown", (event) => {
    const room = event.target.closest && event.target.closest(".drawing");
    if (!room || event.ctrlKey || event.metaKey || event.altKey) return;
    const does = {
      "+": () => zoom(room, scale(room) * STEP),
      "=": () => zoom(room, scale(room) * STEP),
      "-": () => zoom(room, scale(room) / STEP),
      0: () => zoom(room, 1),
      ArrowRight: () => walk(room, 1),
      ArrowDown: () => walk(room, 1),
      ArrowLeft: () => walk(room, -1),
      ArrowUp: () => walk(room, -1),
      Enter: () => event.target.dataset.key && choose(event.target),
      " ": () => event.target.dataset.key && choose(event.target),
    }[event.key];
    if (!does) return;
    event.preventDefault();
    does();
  });

  /* Two fingers enlarge; one scrolls, as everywhere. */
  let pinch = null;
  const spread = (touches) =>
    Math.hypot(touches[0].clientX - touches[1].clientX, touches[0].clientY - touches[1].clientY);
  document.addEventListener("touchstart", (event) => {
    const room = event.target.closest(".drawing");
    pinch = room && event.touches.length === 2
      ? { room, apart: spread(event.touches), scale: scale(room) }
      : null;
  });
  document.addEventListener(
    "touchmove",
    (event) => {
      if (!pinch || event.touches.length !== 2) return;
      event.preventDefault();
      const box = pinch.room.getBoundingClientRect();
      const [one, two] = event.touches;
      const x = (one.clientX + two.clientX) / 2 - box.left;
      const y = (one.clientY + two.clientY) / 2 - box.top;
      zoom(pinch.room, (pinch.scale * spread(event.touches)) / pinch.apart, x, y);
    },
    { passive: false },
  );
  document.addEventListener("touchend", () => (pinch = null));
  document.addEventListener(
    "wheel",
    (event) => {
      const room = event.target.closest(".drawing");
      if (!room || !event.ctrlKey) return;
      event.preventDefault();
      const box = room.getBoundingClientRect();
      const by = event.deltaY < 0 ? STEP : 1 / STEP;
      zoom(room, scale(room) * by, event.clientX - box.left, event.clientY - box.top);
    },
    { passive: false },
  );

  return { attach, light, look, has };
})();
