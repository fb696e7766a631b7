/* What was typed in a blank, read and judged in the very steps of `lang/typed_reading.py`. */
const Readings = (() => {
  const FIGURE = /^([+-]?)([0-9]*)([.,]?)([0-9]*)\s*(\S*)$/;
  const UNCLEAR = "no figure: write 12.4, 40 mV or open";

  const tidied = (text) => text.replace(/[−–]/g, "-").trim().split(/\s+/).join(" ");

  const refused = (why) => ({ value: null, written: "", why });

  /* A figure in the unit of the blank: { value, written, why }; value is null where it is none. */
  const figure = (text, blank) => {
    const typed = tidied(text);
    const unit = blank.unit;
    if (Readings.OPEN.includes(typed.toLowerCase()))
      return blank.open_words.length
        ? { value: Infinity, written: "open", why: "" }
        : refused(`“${typed}” is said of ohms, and this is read in ${unit}`);
    const found = FIGURE.exec(typed);
    if (!found || !(found[2] || found[4]) || (found[3] && !found[4])) return refused(UNCLEAR);
    const [, sign, whole, point, rest, said] = found;
    if (point === "," && rest.length === 3 && whole && !whole.startsWith("0"))
      return refused(
        `“${whole},${rest}” may mean two things: write ${whole}.${rest} or ${whole}${rest}`,
      );
    const known = (word) => blank.spellings.find((one) => one.written === word);
    const word = blank.spellings.find((one) => one.is_word && one.written === said.toLowerCase());
    const spelling = known(said || unit) || word;
    if (!spelling) return refused(`“${said}” found, and this is read in ${unit}`);
    const shown = (sign === "-" ? "-" : "") + (whole || "0") + (rest ? `.${rest}` : "");
    const value = Number(shown) * spelling.factor;
    if (unit === "ohm" && value < 0) return refused("ohms below zero: there is current in the part");
    return { value, written: `${shown} ${spelling.symbol}`, why: "" };
  };

  /* Whether a value is what is expected at a point. */
  const fits = (point, value) =>
    point.low <= value && (point.high === undefined || value <= point.high);

  /* The line that the log reads. */
  const line = (point, written) => point.before + written + point.after;

  return { OPEN: ["open", "ol", "o.l", "o.l.", "inf", "∞"], figure, fits, line };
})();
