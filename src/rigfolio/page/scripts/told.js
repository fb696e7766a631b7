/* What the page was told: the JSON of `rigfolio page --format json`, as far as scripts need it. */
const Told = (() => {
  let told = JSON.parse(document.getElementById("told").textContent);
  let points = new Map();

  const index = () => {
    points = new Map(told.points.map((point) => [point.key, point]));
  };
  index();

  /* A part of the page by its id; one that is not there yet takes words all the same. */
  const say = (id, words) => {
    const part = document.getElementById(id);
    if (part) part.textContent = words;
  };

  return {
    say,
    rig: () => told.rig,
    number: () => told.number,
    points: () => points,
    blank: (unit) => told.blanks.find((blank) => blank.unit === unit),
    /* The parts of a page of the diagram: what each is drawn as, and the key of its card. */
    drawn: (page) => told.drawn[page] || [],
    /* At the desk, parts of what was told are told anew. */
    renew: (more) => {
      told = { ...told, ...more };
      index();
    },
  };
})();
