/* A place to draw a signature on, with a pen, a finger or a mouse.  It keeps the shape alone, in whole numbers of a box of
   1000 by 400: no times, and no pressure.  A name may be typed in its place. */
const WIDE = 1000, HIGH = 400;
const lineOf = (strokes) => strokes.map((points) => "M" + points.map((point) => point.join(" ")).join("L")
  + (points.length < 2 ? "h1" : "")).join("");
const pad = (into, say, who, before, changed) => {
  const own = { name: "", typed: false, strokes: [], at: null, ...before };
  const make = (name, more, text) => Object.assign(document.createElement(name), more, text ? { textContent: text } : {});
  const box = into.appendChild(make("div", { className: "pad" }));
  const label = box.appendChild(make("label", { className: "field" }, say.sayName + " "));
  const name = label.appendChild(make("input", { type: "text", value: own.name, maxLength: 120, autocomplete: "off" }));
  box.prepend(make("h4", {}, who));
  const canvas = box.appendChild(make("canvas", { width: WIDE, height: HIGH }, say.sayDraw));
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", who + ". " + say.sayDraw);
  const again = box.appendChild(make("button", { type: "button", className: "act" }, say.sayAgain));
  again.setAttribute("aria-label", say.sayAgain + ": " + who);
  const typed = box.appendChild(make("label", { className: "typed" }));
  const tick = typed.appendChild(make("input", { type: "checkbox", checked: own.typed }));
  typed.append(" " + say.sayType);
  const pen = canvas.getContext("2d");
  const show = () => {
    pen.clearRect(0, 0, WIDE, HIGH);
    Object.assign(pen, { lineWidth: 5, lineCap: "round", lineJoin: "round", strokeStyle: "#1f1c19", fillStyle: "#1f1c19" });
    if (own.typed) { pen.font = "italic 110px serif"; pen.fillText(own.name, 60, 240, WIDE - 120); } else pen.stroke(new Path2D(lineOf(own.strokes)));
  };
  const keep = (signed) => { own.at = signed ? stamp() : null; show(); changed(own); };
  const point = (event) => {
    const at = canvas.getBoundingClientRect();
    const hold = (part, most) => Math.max(0, Math.min(most, Math.round(part * most)));
    return [hold((event.clientX - at.left) / at.width, WIDE), hold((event.clientY - at.top) / at.height, HIGH)];
  };
  let drawing = null;
  canvas.addEventListener("pointerdown", (event) => {
    if (own.typed) return;
    canvas.setPointerCapture(event.pointerId);
    own.strokes.push(drawing = [point(event)]);
    show();
    event.preventDefault();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!drawing) return;
    const [x, y] = point(event), [a, b] = drawing[drawing.length - 1];
    if (Math.abs(x - a) + Math.abs(y - b) < 6) return;
    drawing.push([x, y]);
    show();
  });
  ["pointerup", "pointercancel"].forEach((end) => canvas.addEventListener(end, () => {
    if (!drawing) return;
    drawing = null;
    keep(true);
  }));
  again.addEventListener("click", () => { own.strokes = []; own.typed = tick.checked = false; keep(false); });
  tick.addEventListener("change", () => { own.typed = tick.checked; keep(own.typed && own.name.trim()); });
  name.addEventListener("input", () => { own.name = name.value; if (own.typed) keep(own.name.trim()); else { show(); changed(own); } });
  show();
  return { own, name, canvas, clear: () => again.click(), is: () => own.name.trim() && own.at && (own.typed || own.strokes.some((some) => some.length > 1)) };
};
