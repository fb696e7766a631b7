/* What was tapped: its card is shown at the foot of the screen, and its parts light up. */
const Hand = (() => {
  const aside = document.getElementById("in-hand");
  const body = document.getElementById("hand-body");
  let key = "";
  let from = null;
  let others = [];

  const card = (wanted) =>
    [...document.querySelectorAll("main .card")].find((one) => one.dataset.key === wanted);

  /* A copy of a card without ids, open; `wire` is the one of its wires that was tapped. */
  const copy = (source, wire) => {
    const made = source.cloneNode(true);
    made.removeAttribute("id");
    made.open = true;
    for (const one of made.querySelectorAll("[id]")) one.removeAttribute("id");
    for (const one of made.querySelectorAll(".wire"))
      one.classList.toggle("here", one.dataset.wire === wire);
    return made;
  };

  const mark = (wanted) => {
    for (const one of document.querySelectorAll(".slot, main .card"))
      one.classList.toggle("chosen", Boolean(wanted) && one.dataset.key === wanted);
  };

  /* Show what a key stands for, with what shares its slot; false where there is no card of it. */
  const show = (wanted, { wire = "", focus = true, beside = [] } = {}) => {
    const source = card(wanted);
    if (!source) return false;
    if (aside.hidden) from = document.activeElement;
    key = wanted;
    others = beside;
    const more = beside.map(card).filter((one) => one && one !== source);
    body.replaceChildren(...[source, ...more].map((one) => copy(one, wire)));
    aside.hidden = false;
    document.documentElement.classList.add("held");
    document.getElementById("hand-light").hidden = !Diagram.has(wanted);
    mark(wanted);
    Diagram.light(wanted, wire);
    aside.scrollTop = 0;
    if (focus) body.focus({ preventScroll: true });
    return true;
  };

  const close = () => {
    if (aside.hidden) return;
    aside.hidden = true;
    document.documentElement.classList.remove("held");
    mark("");
    Diagram.light("", "");
    key = "";
    if (from && from.isConnected) from.focus({ preventScroll: true });
  };

  const go = () => {
    const goal = card(key);
    close();
    if (!goal) return;
    goal.hidden = false;
    goal.open = true;
    goal.scrollIntoView({ block: "start" });
    goal.querySelector("summary").focus({ preventScroll: true });
  };

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-key]");
    const beside = link?.dataset.keys ? link.dataset.keys.split("\n") : [];
    if (link && show(link.dataset.key, { beside })) event.preventDefault();
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") close();
  });
  document.getElementById("hand-close").addEventListener("click", close);
  document.getElementById("hand-go").addEventListener("click", go);
  document.getElementById("hand-light").addEventListener("click", () => Diagram.look(key));

  /* After a renewal: the same card again, without taking the focus. */
  const renew = () => {
    if (!key) return;
    if (!show(key, { focus: false, beside: others })) close();
  };

  return { show, close, renew };
})();
