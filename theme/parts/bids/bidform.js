/* The form of the reader's own bids on sheet 3, their lines in the rows, their order, and what is left to ask. */
mounts.bidform = function (sheet) {
  const section = sheet.querySelector("[data-bids]"), table = sheet.querySelector("[data-rows]");
  if (!section || !table) return;
  const place = "bids " + section.dataset.bids, usual = bids.usual(section), most = bids.most;
  const mould = section.querySelector("template").content, said = mould.querySelector("[data-words]");
  const forms = section.querySelector("[data-forms]"), order = section.querySelector("[data-order]");
  const add = section.querySelector("[data-add]"), asks = sheet.querySelector("[data-asks]");
  const blank = sheet.querySelector("[data-blank]"), options = bids.options(usual);
  const has = (key) => mould.querySelector("[data-field=" + key + "]");
  const asked = bids.answers.filter(has), besides = ["places", "alarms", "permit", "panel"].filter(has);
  const columns = table.querySelector("thead").querySelectorAll("th").length - 1;
  const ask = bids.say(said, "ask", {});
  let typed = bids.read(place);
  const say = (key, slots) => bids.say(said, key, slots || {});
  const part = bids.part;
  function finish(one) {
    if (!one.spans.length) return bids.lacks(said, one);
    const words = [bids.line(said, one, "finish", "finish-one")];
    if (one.bid.surprise !== true) {
      const alike = bids.alike({ more: one.bid.more === true, holes: one.bid.holes !== false }, usual);
      if (alike) words.push(say("loaded", { name: alike.name }));
    }
    if (one.unpriced.length) words.push(say("without", { what: bids.list(said, one.unpriced) }));
    return words.join(" ");
  }
  function buys(bid) {
    const these = (value) => asked.filter((key) => bid[key] === value), found = [];
    const [yes, no, open] = [these(true), these(false), these(null)];
    if (yes.length) found.push(say("buy-in", { what: bids.list(said, yes) }));
    if (no.length) found.push(say("buy-out", { what: bids.list(said, no) }));
    if (open.length) found.push(say("buy-ask", { what: bids.list(said, open) }));
    if (!no.length && !open.length) found.push(say("buy-paint"));
    return open.length === asked.length ? null : { text: found.join(" "), open: open.length > 0 };
  }
  /* What can raise the bid, and what of that it does not say. */
  function rises(bid) {
    const found = [], open = [];
    const who = (key, what) => { if (bid[key] === null) open.push(key); else found.push(say(what + (bid[key] ? "-they" : "-you"))); };
    const price = (key) => { if (bid[key] === null) open.push(key); else found.push(say("rise-" + key, { sum: dollars(bid[key]) })); };
    who("more", "rise");
    if (bid.more !== true) ["each", "circuit", "drop"].forEach(price);
    who("surprise", "surprise");
    if (bid.more !== true || bid.surprise !== true) price("cap");
    if (!found.length) return null;
    if (open.length) found.push(say("rise-ask", { what: bids.list(said, open) }));
    return { text: found.join(" "), open: open.length > 0 };
  }
  /* What the form says in a row: its words, and whether something of the row is still to ask; null when nothing. */
  function says(row, bid, worked) {
    const whole = (text) => ({ text, open: false }), some = (text) => ({ text, open: true });
    const told = (key, what) => (bid[key] === null ? null : whole(say(what + (bid[key] ? "-yes" : "-no"))));
    const typed = (key) => (worked.raw[key] || "").trim();
    const rows = {
      price() {
        if (bid.total === null) return null;
        const sum = dollars(bid.total);
        return bid.points === null ? some(say("total-alone", { sum })) : whole(say("total", { sum, points: String(bid.points) }));
      },
      rise() { return rises(bid); },
      least() { return bid.total === null ? null : whole(say("least", { sum: dollars(bid.total) })); },
      most() {
        const cap = bid.more && bid.surprise ? 0 : bid.cap;
        return bid.total === null || cap === null ? null : whole(say("most", { sum: dollars(bid.total + cap) }));
      },
      later() { return buys(bid); },
      ending() { return whole(finish(worked)); },
      besides() {
        const known = besides.filter((key) => bid[key] !== null).map((key) => say(key + (bid[key] ? "-yes" : "-no")));
        if (bid.points !== null) known.unshift(say("points-listed", { points: String(bid.points) }));
        return known.length ? some([...known, say("other-lines")].join(" ")) : null;
      },
      holes() { return told("holes", "holes"); },
      walls() { return told("holes", "walls"); },
      floors() { return told("floors", "floors"); },
      lead() { return told("lead", "lead"); },
      cleaning() { return told("clean", "clean"); },
      firm() {
        const found = ["license", "dated"].filter(typed).map((key) => say(key, { what: typed(key) }));
        if (!typed("firm")) return found.length ? some([...found, ask].join(" ")) : null;
        return whole([...found, typed("firm")].join(" "));
      },
    };
    if (rows[row]) return rows[row]();
    return typed(row) ? whole(typed(row)) : null;
  }
  function lines(all) {
    table.querySelectorAll("tr.bid").forEach((line) => line.remove());
    return [...table.querySelectorAll("tbody tr[id]")].map((row) => {
      const number = Number(row.id.match(/\d+$/)[0]);
      let after = row;
      return { number, question: row.querySelector("th b").textContent, open: all.map((one) => {
        const here = says(row.dataset.row, one.bid, one), line = document.createElement("tr");
        const head = part("th", one.name), cell = document.createElement("td");
        line.className = "bid";
        line.setAttribute("role", "row");
        head.setAttribute("role", "rowheader");
        head.setAttribute("scope", "row");
        cell.setAttribute("role", "cell");
        cell.colSpan = columns;
        cell.append(part("p", here ? here.text : ask));
        line.append(head, cell);
        after.after(line);
        after = line;
        return !here || here.open;
      }) };
    });
  }
  function ordered(all) {
    order.replaceChildren();
    if (!all.length) return;
    const made = mould.querySelector(".ordered").cloneNode(true), list = made.querySelector("ol");
    bids.inOrder([...all, ...options]).forEach((one) => {
      const line = document.createElement("li");
      line.append(part("b", one.name + ":"), " ", part("span", one.ours ? bids.line(said, one) : finish(one)));
      if (!one.ours && bids.cheapest(one, options.map((option) => option.spans[1].low))) line.append(" ", part("span", say("cheapest")));
      list.append(line);
    });
    made.querySelector("[data-forget]").addEventListener("click", () => {
      typed = [];
      kept.forget(place);
      forms.replaceChildren();
      show();
      add.firstElementChild.focus();
    });
    order.append(made);
  }
  function questions(all, rows) {
    blank.hidden = all.length > 0;
    asks.replaceChildren(...all.map((one, i) => {
      const made = document.createElement("section"), list = document.createElement("ol");
      list.className = "lines";
      rows.filter((row) => row.open[i]).forEach((row) => {
        const line = part("li", row.question);
        line.value = row.number;
        list.append(line);
      });
      made.append(part("h3", say("ask-about", { name: one.name })), list);
      if (list.firstChild) made.append(message(one, rows.filter((row) => row.open[i]).map((row) => row.question)));
      return made;
    }));
  }
  /* The open questions as a message: the reader may change it, copy it, or hand it to their own texts or mail. */
  function message(one, open) {
    const made = mould.querySelector(".message").cloneNode(true), text = made.querySelector("textarea");
    const button = made.querySelector("button"), links = [...made.querySelectorAll("[data-to]")];
    const address = () => links.forEach((link) => { link.href = link.dataset.to + encodeURIComponent(text.value) + (link.dataset.to[0] === "m" ? "&subject=" + encodeURIComponent(say("message-subject")) : ""); });
    text.value = [say("message-open"), "", ...open.map((question) => "- " + question), "", say("message-close")].join("\n");
    text.setAttribute("aria-label", say("ask-about", { name: one.name }));
    text.addEventListener("input", address);
    address();
    button.addEventListener("click", () => {
      text.select();
      const done = () => { button.textContent = say("message-copied"); };
      if (navigator.clipboard) navigator.clipboard.writeText(text.value).then(done, () => {}); else if (document.execCommand("copy")) done();
    });
    return made;
  }
  /* What the picture of money on another page draws: names, words and sums, of this version of the offer alone. */
  function picture(all) {
    const drawn = all.map((one) => {
      if (!one.spans.length) return { name: one.name, words: bids.lacks(said, one) };
      const low = Math.min(...one.spans.map((span) => span.low)), high = Math.max(...one.spans.map((span) => span.high));
      const most = one.bid.total + (one.bid.more && one.bid.surprise ? 0 : one.bid.cap), sums = { price: one.bid.total, low, high, most: high };
      if ((one.bid.cap !== null || most === one.bid.total && one.bid.more && one.bid.surprise) && high <= most) sums.cap = most;
      const words = [say("today", { sum: dollars(one.bid.total) }), bids.line(said, one)];
      if (one.unpriced.length) words.push(say("without", { what: bids.list(said, one.unpriced) }));
      return { name: one.name, words: words.join(" "), sums };
    });
    if (drawn.length) kept.write("drawn " + place, { made: section.dataset.made, drawn }); else kept.forget("drawn " + place);
  }
  function show() {
    const all = typed.map((raw, i) => bids.one(raw, i, say("bid"), usual));
    questions(all, lines(all));
    ordered(all);
    [...forms.children].forEach((form, i) => {
      form.querySelector("legend").textContent = all[i].name;
      form.querySelector(".worked").textContent = finish(all[i]);
      form.querySelectorAll("[data-wrong]").forEach((fault) => {
        const here = all[i].wrong.includes(fault.dataset.wrong);
        const field = form.querySelector("[data-field=" + fault.dataset.wrong + "]");
        fault.hidden = !here;
        field.setAttribute("aria-invalid", String(here));
      });
    });
    add.hidden = typed.length >= most;
    picture(all);
    document.dispatchEvent(new Event("bids"));
  }
  function form(raw) {
    const made = mould.querySelector("fieldset").cloneNode(true), stamp = "compare-bid-" + Math.random().toString(36).slice(2);
    made.querySelectorAll("[data-field]").forEach((field) => {
      const key = field.dataset.field, fault = made.querySelector("[data-wrong=" + key + "]");
      field.value = raw[key] || "";
      if (key === "name") field.maxLength = 24;
      if (fault) {
        fault.hidden = true;
        fault.id = stamp + "-" + key;
        field.setAttribute("aria-describedby", fault.id);
      }
      field.addEventListener("input", () => {
        raw[key] = field.value;
        kept.write(place, typed);
      });
      field.addEventListener("change", show);
    });
    made.querySelector("[data-remove]").addEventListener("click", () => {
      typed = typed.filter((one) => one !== raw);
      if (typed.length) kept.write(place, typed); else kept.forget(place);
      made.remove();
      show();
      add.firstElementChild.focus();
    });
    forms.append(made);
    return made;
  }
  add.firstElementChild.addEventListener("click", (event) => {
    event.preventDefault();
    if (typed.length >= most) return;
    const raw = {};
    typed.push(raw);
    kept.write(place, typed);
    const made = form(raw);
    show();
    made.querySelector("[data-field]").focus();
  });
  typed.forEach(form);
  show();
};
