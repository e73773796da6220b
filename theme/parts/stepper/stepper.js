/* The stepper of sheet 4: how many more turn out old. It looks up and adds figures that the build wrote into the
   page, step by step; it makes the controls itself, since without it there is nothing to set. What the reader sets is
   kept on this device for the next visit, on sheet 4 and at the table alike. */
mounts.stepper = function (sheet) {
  const all = sheet.querySelector("[data-steps]");
  if (!all) return;
  const read = (text) => {
    const [stem, ...rest] = text.split(" ");
    const of = new Map();
    rest.map((one) => one.split("=")).forEach(([name, more]) => more.split("+").map(Number).reduce((sum, one, i) => {
      of.set(name.replace(/\d*$/, (last) => last && Number(last) + i), sum + one);
      return sum + one;
    }, 0));
    return { stem, of };
  };
  const none = read("");
  const heads = [...all.querySelectorAll("[data-out]")].map((head) => ({ head, whole: head.textContent, out: head.dataset.out }));
  const options = [...all.querySelectorAll("[data-option]")].map((row) => ({
    name: row.querySelector("th").textContent, paid: read(row.dataset.paid), later: read(row.dataset.later),
    ours: read(row.dataset.ours || ""), closes: row.dataset.closes, cells: [...row.querySelectorAll("data")],
    price: Number(row.querySelector("data").value), named: row.querySelector("data").dataset.figure, said: row.querySelector("data").textContent,
  }));
  const canBe = new Map();
  (options.find((option) => option.paid.of.size) || { paid: none }).paid.of.forEach((cents, name) => {
    const [points, feeds] = name.match(/\d+/g).map(Number);
    canBe.set(points, [...(canBe.get(points) || []), feeds]);
  });
  if (!canBe.size) return;
  const known = [...canBe.keys()][0];
  const at = { points: known, feeds: canBe.get(known)[0] };
  const memory = "steps " + sheet.dataset.job, was = { out: [], old: [], ...kept.read(memory) };
  if ((canBe.get(was.points) || []).includes(was.feeds)) Object.assign(at, { points: was.points, feeds: was.feeds });
  let keeps = false;
  const fields = [];
  const find = (name) => all.querySelector("[data-at=" + name + "]");
  const make = (tag, more, into) => into.appendChild(Object.assign(document.createElement(tag), more));
  const tick = (label, more) => make("input", { type: "checkbox", ...more }, label.querySelector(".step-tick"));
  const items = [...all.querySelectorAll("[data-item]")].map((label) => ({ key: label.dataset.item, label, out: tick(label, { checked: was.out.includes(label.dataset.item) }) }));
  const closers = [...all.querySelectorAll("[data-closer]")].map((label) => ({
    by: label.dataset.closer, pick: tick(label, { type: "radio", name: "step-closer", checked: label.dataset.closer === (was.ours ? "ours" : "elsewhere") }),
  }));
  const cables = [...all.querySelectorAll("[data-brings]")].map((label) => {
    const cable = read(label.dataset.brings);
    return { ...cable, old: tick(label, { checked: was.old.includes(cable.stem) }) };
  });
  function put(element, cents, name, said) {
    element.value = cents;
    element.textContent = said || near(cents);
    if (name) element.dataset.figure = name; else delete element.dataset.figure;
  }
  function show() {
    const key = "p" + at.points;
    const left = items.filter((item) => !item.out.checked);
    const ours = closers.some((closer) => closer.by === "ours" && closer.pick.checked);
    const totals = options.map((option) => {
      const name = key + ".f" + at.feeds, many = option.paid.of.size > 0;
      const us = (item) => ours && item.key === option.closes;        // paid to us, and to nobody elsewhere
      const holes = left.some(us) ? option.ours.of.get(key) : 0;
      const paid = (many ? option.paid.of.get(name) : option.price) + holes;
      const total = left.reduce((sum, item) => sum + (us(item) ? 0 : option.later.of.get(item.key + "." + key) || 0), paid);
      if (many || holes) put(option.cells[0], paid, holes ? "" : option.paid.stem + "." + name);
      else put(option.cells[0], option.price, option.named, option.said);
      put(option.cells[1], total);
      return total;
    });
    find("points").textContent = at.points;
    find("feeds").textContent = at.feeds;
    find("cheapest").textContent = options.filter((option, i) => totals[i] === Math.min(...totals)).map((option) => option.name).join(", ");
    heads.forEach(({ head, whole, out }) => { head.textContent = left.length < items.length ? out : whole; });
    items.forEach((item) => item.label.classList.toggle("out", item.out.checked));
    fields.forEach((field) => field());
    if (keeps) kept.write(memory, { ...at, ours, out: items.filter((item) => item.out.checked).map((item) => item.key),
      old: cables.filter((cable) => cable.old.checked).map((cable) => cable.stem) });
  }
  function set(points, feeds) {
    at.points = points;
    at.feeds = feeds;
    show();
  }
  function byHand(points, feeds) {
    cables.forEach((cable) => { cable.old.checked = false; });
    set(points, feeds);
  }
  const middle = (feeds) => feeds[feeds.length >> 1];
  function control(name, choices, choose) {
    const place = all.querySelector("[data-step=" + name + "]");
    if (!place) return;
    const by = (step) => {
      const next = choices()[choices().indexOf(at[name]) + step];
      if (next !== undefined) choose(next);
    };
    const button = (words, step) => {
      const made = make("button", { type: "button", className: step < 0 ? "fewer" : "further" }, place);
      made.setAttribute("aria-label", words);
      made.addEventListener("click", () => by(step));
      return made;
    };
    const fewer = button(place.dataset.fewer, -1);
    const field = make("input", { type: "number", inputMode: "numeric" }, place);
    const further = button(place.dataset.further, 1);
    field.setAttribute("aria-labelledby", place.dataset.label);
    field.addEventListener("keydown", (event) => {
      const step = { ArrowUp: 1, ArrowDown: -1 }[event.key];
      if (!step) return;
      event.preventDefault();
      by(step);
    });
    field.addEventListener("input", () => {
      const typed = field.valueAsNumber;
      if (choices().includes(typed) && typed !== at[name]) choose(typed);
    });
    field.addEventListener("change", () => {
      const typed = field.valueAsNumber;
      if (Number.isNaN(typed) || typed === at[name]) return show();
      const next = choices().find((choice) => choice >= typed);
      choose(next === undefined ? choices()[choices().length - 1] : next);
    });
    fields.push(() => {
      const can = choices();
      [field.min, field.max] = [can[0], can[can.length - 1]];
      field.value = at[name];
      fewer.setAttribute("aria-disabled", at[name] === can[0]);
      further.setAttribute("aria-disabled", at[name] === can[can.length - 1]);
    });
  }
  control("points", () => [...canBe.keys()], (points) => byHand(points, middle(canBe.get(points))));
  control("feeds", () => canBe.get(at.points), (feeds) => byHand(at.points, feeds));
  cables.forEach((cable) => cable.old.addEventListener("change", () => {
    const found = cables.filter((one) => one.old.checked);
    const sum = (word) => found.reduce((total, one) => total + one.of.get(word), 0);
    set(known + sum("points"), canBe.get(known)[0] + sum("feeds"));
  }));
  items.forEach((item) => item.out.addEventListener("change", show));
  closers.forEach((closer) => closer.pick.addEventListener("change", show));
  show();
  keeps = true;
};
