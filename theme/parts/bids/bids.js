/* Bids of the reader's own, to the cent, on the same finish as our options: old wires dead, walls ready to paint, floors sound.
   Every figure comes from the page; a bid stays on this phone.
   A blank is worked both ways, as in the bid and as not in it, is never taken for a no, and the answer is a span. To a bid's
   total are added: for a no, what that costs elsewhere, at the usual cost of this house; where the reader pays for more old
   wiring, every old point that the bid leaves out, and the new circuits for them, at the bid's own prices; blocked bays at
   its own price; and unless the bidder pays for surprises, what surprises, tracing and a hard house add to that option of
   ours which shares the risk and the holes alike. So an option of ours typed in as a bid ends where it ends. A cap holds all
   that is added. The total, the points and the price of a point have no second reading, since a figure of ours there would
   be a claim about the bidder; a circuit or a bay without a price adds nothing, and that is said. With more than tooMany of
   the other answers blank, the span would say more about our costs than about the bid. */
const bids = {
  answers: ["holes", "floors", "clean", "permit", "panel", "alarms", "places"],
  never: ["alarms", "places"],
  tooMany: 4,
  cost(usual, key) { return key in usual.later ? usual.later[key][1] : null; },
  further(bid, usual, old) { return Math.max(0, usual.listed + old - (bid.points || 0)); },
  missing(bid, usual) {
    const found = bid.total === null ? ["total"] : [];
    if (bid.more !== true) {
      if (bid.points === null) found.push("points");
      if (bid.each === null && (bid.points === null || bids.further(bid, usual, Math.max(...usual.old)) > 0)) found.push("each");
    }
    return [...found, ...["more", "surprise"].filter((key) => bid[key] === null),
      ...bids.answers.filter((key) => bid[key] === null && bids.cost(usual, key) !== 0)];
  },
  /* What is added for old wiring and blocked bays at one of the three counts, and what the noes cost. */
  added(bid, usual, i) {
    const old = usual.old[i], more = bid.more ? 0 : bids.further(bid, usual, old);
    const circuits = Math.ceil(usual.feeds[i] * Math.min(1, more / Math.max(1, old)));
    return more * (bid.each || 0) + circuits * (bid.circuit || 0) + usual.blocked[i] * (bid.drop || 0);
  },
  bought(bid, usual, i) {
    return bids.answers.reduce((sum, key) => sum + (bid[key] === false && key in usual.later ? usual.later[key][i] : 0), 0);
  },
  /* The option of ours that leaves the reader the same risk, and of those the one that leaves the same holes. */
  alike(bid, usual) {
    const some = usual.ours.filter((one) => one.bid.more === bid.more);
    return some.find((one) => one.bid.holes === bid.holes) || some[0];
  },
  sum(bid, usual, i) {
    const one = bid.surprise ? null : bids.alike(bid, usual), more = bids.added(bid, usual, i);
    const load = one ? one.ending[i] - one.bid.total - bids.added(one.bid, usual, i) - bids.bought(one.bid, usual, i) : 0;
    return bid.total + Math.min(more + load, bid.cap === null ? Infinity : bid.cap) + bids.bought(bid, usual, i);
  },
  readings(bid, keys) {
    return keys.reduce((all, key) => all.flatMap((one) => [{ ...one, [key]: true }, { ...one, [key]: false }]), [bid]);
  },
  work(bid, usual) {
    const missing = bids.missing(bid, usual), blanks = missing.filter((key) => !["total", "points", "each"].includes(key));
    const unpriced = bids.answers.filter((key) => bids.cost(usual, key) === null && bid[key] !== true);
    if (bid.more !== true && bid.circuit === null && Math.max(...usual.feeds) > 0) unpriced.push("circuit");
    if (bid.more !== true && bid.drop === null && Math.max(...usual.blocked) > 0) unpriced.push("drop");
    if (blanks.length < missing.length || blanks.length > bids.tooMany) return { missing, unpriced, spans: [] };
    const all = bids.readings(bid, blanks);
    const spans = usual.old.map((_, i) => {
      const sums = all.map((one) => bids.sum(one, usual, i));
      return { low: Math.min(...sums), high: Math.max(...sums) };
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
  usual(section) {
    const read = looked(section.dataset.figures), later = {}, counts = ["fewer", "middle", "more"];
    bids.answers.forEach((key) => {
      if (key in read) later[key] = counts.map((count) => (key + "-" + count in read ? read[key + "-" + count] : read[key]));
      else if (bids.never.includes(key)) later[key] = [0, 0, 0];
    });
    const at = (what) => counts.map((count) => read[count + what]), mould = section.querySelector("template").content;
    return { listed: read.listed, old: at(""), feeds: at("-feeds"), blocked: at("-blocked"), later, ours: bids.ours(mould, read.listed) };
  },
  /* Our options read as bids: what is in them, at their own prices, with the ending that the build worked out. */
  ours(mould, points) {
    return [...mould.querySelectorAll("[data-option]")].map((option) => {
      const { p10, p50, p90 } = looked(option.dataset.ending), terms = looked(option.dataset.terms);
      const covers = "covers" in option.dataset, left = option.dataset.leaves.split(" ");
      return { name: option.dataset.option, ending: [p10, p50, p90], bid: {
        total: terms.price, points, each: terms["each-point"], circuit: terms["each-feed"], drop: covers ? null : terms["each-blocked-drop"],
        more: covers, surprise: false, cap: null, ...Object.fromEntries(bids.answers.map((key) => [key, !left.includes(key)])) } };
    });
  },
  options(usual) {
    return usual.ours.map((one) => ({ ours: 1, name: one.name, unpriced: [], spans: one.ending.map((sum) => ({ low: sum, high: sum })) }));
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
  range(said, low, high) {
    const sums = { low: near(low), high: near(high) };
    return bids.say(said, sums.low === sums.high ? "sum" : "span", sums);
  },
  /* An option or a bid on the same finish: the ends over the three counts, and the middle; one sum is said once. */
  line(said, one, whole, alone) {
    const [fewer, middle, more] = one.spans, at = bids.range(said, middle.low, middle.high);
    const [low, high] = [near(Math.min(fewer.low, middle.low)), near(Math.max(more.high, middle.high))];
    return bids.say(said, low === high ? alone || "line-one" : whole || "line", { low, high, middle: at });
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
  const bid = { points: bids.count(raw.points || "") }, answer = { yes: true, no: false };
  ["total", "each", "circuit", "drop", "cap"].forEach((key) => { bid[key] = bids.cents(raw[key] || ""); });
  const wrong = Object.keys(bid).filter((key) => bid[key] === undefined);
  wrong.forEach((key) => { bid[key] = null; });
  ["more", "surprise", "lead", ...bids.answers].forEach((key) => { bid[key] = raw[key] in answer ? answer[raw[key]] : null; });
  return { ours: 0, name: (raw.name || "").trim() || called + " " + "ABC"[i], bid, raw, wrong, ...bids.work(bid, usual) };
};
