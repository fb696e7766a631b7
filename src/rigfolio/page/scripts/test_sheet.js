/* The test sheet: typed readings are judged as they are typed, kept, and saved as a text for the log. */
const TestSheet = (() => {
  const all = () => [...document.querySelectorAll(".point input")];

  /* The key of the point that a blank, its unit or its button belongs to; and that blank. */
  const key = (part) => part.closest(".point").id.slice(2);
  const blank = (part) => part.closest(".point").querySelector("input");

  const unit = (input) => {
    const chosen = input.parentElement.querySelector("select");
    return chosen ? chosen.value : "";
  };

  /* What was typed, with the unit that was chosen where none was typed. */
  const typed = (input) => {
    const text = input.value.trim();
    return unit(input) === "mV" && /[0-9]$/.test(text) ? `${text} mV` : text;
  };

  const judged = (point, text) => {
    const found = Readings.figure(text, Told.blank(point.unit));
    if (found.value === null) return { kind: "unread", words: `not understood: ${found.why}` };
    if (Readings.fits(point, found.value))
      return { kind: "fits", words: `${found.written}: as expected`, written: found.written };
    const hint =
      point.is_small && / V$/.test(found.written) && Math.abs(found.value) >= 1
        ? " If the meter shows mV, choose mV."
        : "";
    const words = `${found.written}: NOT as expected (${point.expected}). Stop here and find out why.${hint}`;
    return { kind: "off", words, written: found.written };
  };

  const show = (input) => {
    const point = Told.points().get(key(input));
    const box = input.closest(".point");
    const output = box.querySelector("output");
    const text = typed(input);
    box.classList.remove("fits", "off", "unread");
    if (!point || !text) {
      output.textContent = "";
      return;
    }
    const { kind, words } = judged(point, text);
    box.classList.add(kind);
    output.textContent = words;
  };

  const sum = () => {
    const count = (kind) => document.querySelectorAll(`.point.${kind}`).length;
    const [off, unread] = [count("off"), count("unread")];
    const read = count("fits") + off;
    const said = [`${read} of ${all().length} read`];
    if (off) said.push(`${off} NOT as expected`);
    if (unread) said.push(`${unread} not understood`);
    Told.say("test-sum", said.join(", "));
  };

  /* Fill in what was kept. */
  const attach = () => {
    for (const input of all()) {
      const kept = Keeping.get(key(input));
      const [text, chosen] = kept.split("\n");
      input.value = text || "";
      const select = input.parentElement.querySelector("select");
      if (select) select.value = chosen === "mV" ? "mV" : "V";
      show(input);
    }
    sum();
    Told.say("kept-words", Keeping.words());
  };

  const changed = (input) => {
    const text = input.value.trim();
    Keeping.put(key(input), text ? [text, unit(input)].filter(Boolean).join("\n") : "");
    show(input);
    sum();
  };

  document.addEventListener("input", (event) => {
    if (event.target.closest(".point")) changed(blank(event.target));
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches(".point input")) return;
    event.preventDefault();
    const every = all();
    const next = every[every.indexOf(event.target) + 1];
    if (next) next.focus();
  });

  const today = () => {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  };

  /* The readings that were understood, a line each, as the log takes them. */
  const text = () => {
    const lines = [];
    for (const input of all()) {
      const point = Told.points().get(key(input));
      const found = point && typed(input) && judged(point, typed(input));
      if (found && found.written) lines.push(`${today()}  ${Readings.line(point, found.written)}`);
    }
    return lines.length ? `# Readings taken at the panel\n${lines.join("\n")}\n` : "";
  };

  const save = () => {
    const lines = text();
    if (!lines) {
      Told.say("test-sum", "nothing is read yet: there is nothing to save");
      return;
    }
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([lines], { type: "text/plain" }));
    const name = Told.rig().name.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
    link.download = `${name || "rig"}-readings-${today()}.txt`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  };

  document.addEventListener("click", (event) => {
    const open = event.target.closest("button.open");
    if (open) {
      const input = blank(open);
      input.value = "open";
      changed(input);
    }
    if (event.target.id === "save-readings") save();
    if (event.target.id === "clear-readings" && confirm("Clear all readings of this rig?")) {
      for (const one of Told.points().keys()) Keeping.put(one, "");
      attach();
    }
  });

  return { attach, text };
})();
