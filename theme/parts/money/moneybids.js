/* The reader's own bids in the picture of money, as the form of bids left them: each is one more line on the scale of our
   options. Where a bid lies beyond that scale, all lines are drawn anew on a longer one, by the rules of `money_picture.py`. */
mounts.moneybids = function (sheet) {
  const list = sheet.querySelector(".money[data-bids]");
  if (!list) return;
  const scale = looked(list.dataset.scale), ends = sheet.querySelectorAll(".money-ends data");
  const ours = [...list.children].map((line) => ({ svg: line.querySelector("svg"), sums: looked(line.dataset.line) }));
  function draw(svg, sums, foot, top) {
    const x = (cents) => Math.round((8 + (cents - foot) / (top - foot) * 286) * 10) / 10;
    const price = x(sums.price), capped = "cap" in sums, end = x(capped ? sums.cap : sums.most);
    const reach = capped ? end : 318, thin = reach > price + 5 ? "M" + (price + 5) + " 13H" + reach : "";
    let [low, high] = [x(sums.low), x(sums.high)], grid = "";
    if (high - low < 3) [low, high] = [(low + high - 3) / 2, (low + high + 3) / 2];
    for (let at = foot; at <= top; at += scale.step) grid += "M" + x(at) + " 0v26";
    const ring = "M" + (price - 5) + " 13a5 5 0 1 0 10 0a5 5 0 1 0-10 0", tip = capped ? "M" + end + " 4v18" : "M311 7l7 6-7 6";
    [grid, ring + thin + tip, "M" + low + " 13H" + high].forEach((d, i) => svg.children[i].setAttribute("d", d));
  }
  function show() {
    const found = kept.read("drawn bids " + list.dataset.bids), all = found && found.made === list.dataset.made ? found.drawn : [];
    const every = all.flatMap((one) => Object.values(one.sums || {}));
    const foot = Math.min(scale.foot, ...every.map((cents) => Math.floor(cents / scale.step) * scale.step));
    const top = Math.max(scale.top, ...every.map((cents) => Math.ceil(cents / scale.step) * scale.step));
    list.querySelectorAll("[data-bid]").forEach((line) => line.remove());
    ours.forEach(({ svg, sums }) => draw(svg, sums, foot, top));
    [foot, top].forEach((cents, i) => { ends[i].value = cents; ends[i].textContent = near(cents); });
    all.forEach(({ name, words, sums }) => {
      const line = document.createElement("li"), made = (mark, text) => Object.assign(document.createElement(mark), { textContent: text });
      line.dataset.bid = "";
      line.append(made("b", name));
      if (sums) {
        line.append(ours[0].svg.cloneNode(true));
        draw(line.lastChild, sums, foot, top);
      }
      line.append(made("p", words));
      list.append(line);
    });
  }
  document.addEventListener("bids", show);
  show();
};
