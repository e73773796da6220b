/* Bids of the reader's own, to the cent, on the same finish as our options: old wires dead, walls ready to paint, floors sound.
   Every figure comes from the page; a bid stays on this phone.
   A blank is worked both ways, as in the bid and as not in it, is never taken for a no, and the answer is a span. To a bid's
   total are added: for a no, what that costs elsewhere, at the usual later cost of this house; where the reader pays for more
   old wiring, every point that the house needs beyond those that the bid lists, at the bid's own price. The total, the points
   and that price have no second reading, since a figure of ours there would be a claim about the bidder. With more than tooMany
   of the six answers blank, the span would say more about our costs than about the bid. */
const bids = {
  answers: ["holes", "floors", "clean", "permit", "panel"],
  tooMany: 3,
  cost(usual, key) { return key in usual.later ? usual.later[key] : null; },
  further(bid, usual, old) { return Math.max(0, usual.listed + old - (bid.points || 0)); },
  missing(bid, usual) {
    const found = bid.total === null ? ["total"] : [];
    if (bid.more !== true) {
      if (bid.points === null) found.push("points");
      if (bid.points === null || bids.further(bid, usual, Math.max(...usual.old)) > 0) {
        if (bid.each === null) found.push("each");
        if (bid.more === null) found.push("more");
      }
    }
    return [...found, ...bids.answers.filter((key) => bid[key] === null && bids.cost(usual, key) !== 0)];
  },
  work(bid, usual) {
    const missing = bids.missing(bid, usual);
    const unpriced = bids.answers.filter((key) => bids.cost(usual, key) === null && bid[key] !== true);
    const blanks = missing.filter((key) => key === "more" || bids.answers.includes(key)).length;
    if (blanks < missing.length || blanks > bids.tooMany) return { missing, unpriced, spans: [] };
    let low = bid.total, high = bid.total;
    bids.answers.forEach((key) => {
      const cost = bids.cost(usual, key) || 0;
      if (bid[key] === false) low += cost;
      if (bid[key] !== true) high += cost;
    });
    const spans = usual.old.map((old) => {
      const more = bids.further(bid, usual, old) * (bid.each || 0);
      return { low: low + (bid.more === false ? more : 0), high: high + (bid.more === true ? 0 : more) };
    });
    return { missing, unpriced, spans };
  },
  cheapest(worked, middles) {
    return worked.spans.length > 0 && !worked.unpriced.length && worked.spans[1].high < Math.min(...middles);
  },
  middle(one) { return one.spans[1].low + one.spans[1].high; },
  inOrder(all) {
    const place = (one) => (one.spans.length ? bids.middle(one) : Infinity);
    return [...all].sort((one, other) => (place(one) === place(other) ? one.ours - other.ours : place(one) - place(other)));
  },
  /* Figures as the build wrote them for a script: word=value, one after another. */
  looked(text) { return Object.fromEntries(text.trim().split(" ").map((one) => one.split("=")).map(([word, value]) => [word, Number(value)])); },
  usual(section) {
    const read = bids.looked(section.dataset.figures), later = {};
    bids.answers.forEach((key) => { if (key in read) later[key] = read[key]; });
    return { listed: read.listed, old: [read.fewer, read.middle, read.more], later };
  },
  options(said) {
    return [...said.querySelectorAll("[data-option]")].map((option) => {
      const { p10, p50, p90 } = bids.looked(option.dataset.ending);
      return { ours: 1, name: option.dataset.option, unpriced: [], spans: [p10, p50, p90].map((sum) => ({ low: sum, high: sum })) };
    });
  },
  most: 3,
  read(place) { return (kept.read(place) || []).slice(0, bids.most); },
  part(mark, text) { const made = document.createElement(mark); made.textContent = text; return made; },
  /* A piece of words with its slots filled; what the reader typed is text and never markup. */
  say(said, key, slots) {
    const piece = said.querySelector("[data-say='" + key + "']").cloneNode(true);
    piece.querySelectorAll("[data-slot]").forEach((slot) => slot.replaceWith(slots[slot.dataset.slot]));
    return piece.textContent.trim();
  },
  /* A forecast to the nearest hundred dollars, halves upward, as every forecast of the sheets is said. */
  near(cents) { return dollars(Math.floor((cents + 5000) / 10000) * 10000); },
  range(said, low, high) {
    const sums = { low: bids.near(low), high: bids.near(high) };
    return bids.say(said, sums.low === sums.high ? "sum" : "span", sums);
  },
  /* An option or a bid on the same finish: the ends over the three counts, and the middle. */
  line(said, one) {
    const [fewer, middle, more] = one.spans;
    return bids.say(said, "line", { low: bids.near(fewer.low), high: bids.near(more.high), middle: bids.range(said, middle.low, middle.high) });
  },
  list(said, keys) { return keys.map((key) => bids.say(said, "name-" + key, {})).join(", "); },
  lacks(said, worked) {
    const count = worked.missing.length;
    return bids.say(said, count === 1 ? "not-yet-one" : "not-yet", { count: String(count), what: bids.list(said, worked.missing) });
  },
};
/* What the reader typed: cents of a sum with or without $ and commas, or a count; null is a blank, undefined a fault. */
bids.cents = (text) => {
  const bare = text.replace(/[\s$]/g, "");
  if (!bare) return null;
  if (!/^(\d{1,7}|\d{1,3}(,\d{3}){1,2})(\.\d{1,2})?$/.test(bare)) return undefined;
  const [whole, part] = bare.replace(/,/g, "").split(".");
  return Number(whole) * 100 + Number((part || "").padEnd(2, "0"));
};
bids.count = (text) => {
  const bare = text.trim();
  if (!bare) return null;
  return /^\d{1,3}$/.test(bare) ? Number(bare) : undefined;
};
/* One bid as it was typed: what it is called, its figures, the fields at fault, and what comes of it. */
bids.one = (raw, i, called, usual) => {
  const bid = { total: bids.cents(raw.total || ""), points: bids.count(raw.points || ""), each: bids.cents(raw.each || "") };
  const wrong = Object.keys(bid).filter((key) => bid[key] === undefined), answer = { yes: true, no: false };
  wrong.forEach((key) => { bid[key] = null; });
  ["more", "lead", ...bids.answers].forEach((key) => { bid[key] = raw[key] in answer ? answer[raw[key]] : null; });
  return { ours: 0, name: (raw.name || "").trim() || called + " " + "ABC"[i], bid, wrong, ...bids.work(bid, usual) };
};
