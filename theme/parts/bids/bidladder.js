/* Sheet 4: the reader's own bids and our options as spans on one scale. */
mounts.bidladder = function (sheet) {
  const section = sheet.querySelector("[data-bids].bidladder");
  if (!section) return;
  const mould = section.querySelector("template").content, said = mould.querySelector("[data-words]");
  const out = section.querySelector("[data-scale]"), usual = bids.usual(section), options = bids.options(mould);
  const part = bids.part;
  function show() {
    const all = bids.read("bids " + section.dataset.bids).map((raw, i) => bids.one(raw, i, bids.say(said, "called", {}), usual));
    out.replaceChildren();
    if (!all.length) return;
    const every = bids.inOrder([...all, ...options]), drawn = every.filter((one) => one.spans.length);
    const step = 100000, sums = drawn.flatMap((one) => one.spans.flatMap((span) => [span.low, span.high]));
    const foot = Math.floor(Math.min(...sums) / step) * step, top = Math.ceil(Math.max(...sums) / step) * step;
    const x = (cents) => ((cents - foot) / Math.max(step, top - foot) * 99 + 0.5).toFixed(1);
    const list = document.createElement("ol");
    every.forEach((one) => {
      const line = document.createElement("li");
      line.append(part("b", one.name + ":"), " ");
      if (!one.spans.length) {
        line.append(part("span", bids.lacks(said, one)));
      } else {
        const [fewer, middle, more] = one.spans, drawing = mould.querySelector("figure svg").cloneNode(true);
        line.append(part("span", bids.line(said, one)));
        if (one.unpriced.length) line.append(" ", part("span", bids.say(said, "without", { what: bids.list(said, one.unpriced) })));
        const thin = [x(fewer.low), x(more.high)], thick = [x(middle.low), x(middle.high)];
        drawing.firstElementChild.setAttribute("d", "M" + thin[0] + " 4v14M" + thin[0] + " 11H" + thin[1] + "M" + thin[1] + " 4v14");
        drawing.lastElementChild.setAttribute("d", thick[0] === thick[1] ? "M" + thick[0] + " 2v18" : "M" + thick[0] + " 11H" + thick[1]);
        line.append(drawing);
      }
      list.append(line);
    });
    const note = part("p", bids.say(said, "note", { low: dollars(foot), high: dollars(top) }));
    note.className = "note";
    out.append(note, list);
  }
  document.addEventListener("bids", show);
  show();
};
