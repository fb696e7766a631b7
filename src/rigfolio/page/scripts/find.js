/* Search by name, slot, wire, load, colour and stripe: cards are left out, the face goes pale. */
const Find = (() => {
  const MOST = 8;

  const folded = (text) => text.replace(/−/g, "-").toLowerCase();

  const listed = (card, name) => (card.dataset[name] ? card.dataset[name].split("\n") : []);

  /* Every word that was typed begins a word of the card. */
  const fits = (card, words) => {
    const pieces = card.dataset.find.split(" ");
    return words.every((word) => pieces.some((one) => one.startsWith(word)));
  };

  const wanted = () => ({
    words: folded(document.getElementById("find-words").value).split(/[\s;,:()]+/).filter(Boolean),
    colour: document.getElementById("find-colour").value,
    stripe: document.getElementById("find-stripe").value,
  });

  const matches = (card, { words, colour, stripe }) => {
    if (card.dataset.find === undefined) return false;
    if (colour && !listed(card, "colours").includes(colour)) return false;
    const stripes = listed(card, "stripes");
    if (stripe === "-" ? stripes.length > 0 : stripe && !stripes.includes(stripe)) return false;
    return fits(card, words);
  };

  const entry = (card) => {
    const link = document.createElement("a");
    link.href = `#${card.id}`;
    link.dataset.key = card.dataset.key;
    link.append(...card.querySelector("summary").cloneNode(true).childNodes);
    const item = document.createElement("li");
    item.append(link);
    return item;
  };

  const run = () => {
    if (!document.getElementById("find-form")?.elements.length) return;
    const asked = wanted();
    const is_asked = Boolean(asked.words.length || asked.colour || asked.stripe);
    const cards = [...document.querySelectorAll("main .card")];
    const found = new Set();
    for (const card of cards) {
      const shown = !is_asked || matches(card, asked);
      card.hidden = !shown;
      if (is_asked && shown) found.add(card.dataset.key);
    }
    for (const face of document.querySelectorAll(".face"))
      face.classList.toggle("sought", is_asked);
    for (const slot of document.querySelectorAll(".slot"))
      slot.classList.toggle("match", (slot.dataset.keys || "").split("\n").some((k) => found.has(k)));
    const kept = cards.filter((card) => found.has(card.dataset.key));
    document.getElementById("find-list").replaceChildren(...kept.slice(0, MOST).map(entry));
    const more = kept.length > MOST ? `, the first ${MOST} here, all among the cards` : "";
    const said = is_asked ? `${kept.length} found${more}` : "";
    Told.say("find-sum", said);
    Told.say("found", is_asked ? `${kept.length} of ${cards.length} shown` : "");
  };

  document.addEventListener("input", (event) => {
    if (event.target.closest("#find-form")) run();
  });
  document.addEventListener("reset", (event) => {
    if (event.target.id === "find-form") setTimeout(run);
  });
  document.addEventListener("submit", (event) => event.preventDefault());

  return { run };
})();
