/* Readings kept in this browser by rig and point. Where a browser keeps nothing, the page says so. */
const Keeping = (() => {
  const prefix = () => `rigfolio readings 1\n${Told.rig().name}\n`;
  const held = new Map();
  let works = true;
  try {
    localStorage.setItem("rigfolio try", "1");
    localStorage.removeItem("rigfolio try");
  } catch {
    works = false;
  }

  const get = (key) => {
    if (held.has(key)) return held.get(key);
    return (works && localStorage.getItem(prefix() + key)) || "";
  };

  const put = (key, text) => {
    held.set(key, text);
    if (!works) return;
    try {
      if (text) localStorage.setItem(prefix() + key, text);
      else localStorage.removeItem(prefix() + key);
    } catch {
      works = false;
    }
  };

  const words = () =>
    works
      ? "What is typed is kept in this browser until you clear it."
      : "This browser keeps nothing: save the file before you close the page.";

  return { get, put, words };
})();
