/* At the desk: sections come anew on every save; a lost connection is said, and tried again. */
const Renewal = (() => {
  const state = document.getElementById("state");

  const say = (words) => {
    state.textContent = words;
    state.hidden = !words;
  };

  /* What a person has opened stays open. */
  const opened = (section) =>
    new Set([...section.querySelectorAll("details[open]")].map((one) => one.id).filter(Boolean));

  const replace = (name, html) => {
    const section = document.getElementById(name);
    if (!section) return;
    const open = opened(section);
    const focused = section.contains(document.activeElement) ? document.activeElement.id : "";
    const rooms = [...section.querySelectorAll(".drawing")].map((one) => ({
      scale: one.dataset.scale, left: one.scrollLeft, top: one.scrollTop,
    }));
    section.innerHTML = html;
    for (const one of section.querySelectorAll("details")) if (open.has(one.id)) one.open = true;
    if (name === "diagram") restore(section, rooms);
    if (focused && document.getElementById(focused))
      document.getElementById(focused).focus({ preventScroll: true });
  };

  const restore = (section, rooms) => {
    [...section.querySelectorAll(".drawing")].forEach((room, number) => {
      const was = rooms[number];
      if (!was) return;
      if (was.scale) room.dataset.scale = was.scale;
      if (was.scale) room.querySelector("svg").style.width = `${was.scale * 100}%`;
      room.scrollTo({ left: was.left, top: was.top, behavior: "instant" });
    });
  };

  /* What is sought and typed is no part of a section's text: it is put back. */
  const renew = (told) => {
    const ids = ["find-words", "find-colour", "find-stripe", "mark-for", "mark-line"];
    const kept = ids.map((id) => [id, document.getElementById(id)?.value]);
    if (told.told) Told.renew(told.told);
    for (const [name, html] of Object.entries(told.sections)) replace(name, html);
    for (const [id, value] of kept) {
      const field = document.getElementById(id);
      if (field && value !== undefined) field.value = value;
    }
    Begin.attach();
    document.documentElement.dataset.renewed = String(told.number);
  };

  const source = new EventSource(`events?since=${Told.number()}`);
  source.addEventListener("renewed", (event) => {
    const told = JSON.parse(event.data);
    renew(told);
    say(told.state);
  });
  source.addEventListener("error", () => {
    const now = new Date().toLocaleTimeString();
    say(`No connection since ${now}: what is shown may be old. It is tried again.`);
  });
  return {};
})();
