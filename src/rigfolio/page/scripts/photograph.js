/* The photograph: a tap gives the line that marks a slot or wire on it. */
const Photograph = (() => {
  const SVG = "http://www.w3.org/2000/svg";
  const STEP = 0.01;
  let own = "";

  /* A share as the text writes it. */
  const share = (value) => `${(100 * Math.min(1, Math.max(0, value))).toFixed(1)} %`;

  const line = (x, y) =>
    `mark   ${document.getElementById("mark-for").value} at ${share(x)} ${share(y)}`;

  /* Where the pointer of a picture is, in shares. */
  const place = (picture, x, y) => {
    picture.dataset.x = String(Math.min(1, Math.max(0, x)));
    picture.dataset.y = String(Math.min(1, Math.max(0, y)));
    let pointer = picture.querySelector(".pointer");
    if (!pointer) {
      pointer = document.createElementNS(SVG, "circle");
      pointer.classList.add("pointer");
      pointer.setAttribute("r", "20");
      picture.append(pointer);
    }
    const box = picture.viewBox.baseVal;
    pointer.setAttribute("cx", String(picture.dataset.x * box.width));
    pointer.setAttribute("cy", String(picture.dataset.y * box.height));
  };

  const mark = (picture) => {
    const { x, y } = picture.dataset;
    document.getElementById("mark-line").value = line(Number(x), Number(y));
    document.getElementById("copied").textContent = `marked at ${share(x)} ${share(y)}`;
  };

  document.addEventListener("click", (event) => {
    const picture = event.target.closest(".picture");
    if (picture) {
      const box = picture.getBoundingClientRect();
      place(picture, (event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height);
      mark(picture);
    }
    if (event.target.id === "copy-mark") copy();
  });
  document.addEventListener("keydown", (event) => {
    const picture = event.target.closest && event.target.closest(".picture");
    if (!picture) return;
    const by = {
      ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP],
    }[event.key];
    if (!by && event.key !== "Enter") return;
    event.preventDefault();
    const [x, y] = [Number(picture.dataset.x || 0.5), Number(picture.dataset.y || 0.5)];
    place(picture, ...(by ? [x + by[0], y + by[1]] : [x, y]));
    if (!by) mark(picture);
  });
  document.addEventListener("change", (event) => {
    if (event.target.id === "own-picture") open(event.target.files[0]);
  });

  /* A picture that was just taken: it is looked at here and goes nowhere. */
  const open = (file) => {
    if (!file) return;
    if (own) URL.revokeObjectURL(own);
    own = URL.createObjectURL(file);
    const image = new Image();
    image.onload = () => {
      const high = Math.round((1000 * image.naturalHeight) / image.naturalWidth);
      const picture = document.createElementNS(SVG, "svg");
      const attributes = {
        class: "picture", role: "img", tabindex: "0", viewBox: `0 0 1000 ${high}`,
        "aria-label": "your picture; arrow keys move the pointer, Enter marks",
      };
      for (const [name, value] of Object.entries(attributes)) picture.setAttribute(name, value);
      const shown = document.createElementNS(SVG, "image");
      for (const [name, value] of Object.entries({ href: own, width: 1000, height: high }))
        shown.setAttribute(name, String(value));
      picture.append(shown);
      const room = document.getElementById("own-room");
      room.replaceChildren(picture);
      room.hidden = false;
    };
    image.onerror = () => {
      document.getElementById("copied").textContent = "this browser cannot show that picture";
    };
    image.src = own;
  };

  const copy = async () => {
    const field = document.getElementById("mark-line");
    const said = document.getElementById("copied");
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = "copied";
    } catch {
      field.focus();
      field.select();
      said.textContent = document.execCommand("copy") ? "copied" : "chosen: copy it by hand";
    }
  };

  return {};
})();
