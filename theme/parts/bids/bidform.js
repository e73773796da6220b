/* The form of the reader's own bids on sheet 3, their lines in the rows, their order, and what is left to ask. */
mounts.bidform = function (sheet) {
  const section = sheet.querySelector("[data-bids]"), table = sheet.querySelector("table.rows:not(.items)");
  if (!section || !table) return;
  const place = "bids " + section.dataset.bids, usual = bids.usual(section), most = bids.most;
  const mould = section.querySelector("template").content, said = mould.querySelector("[data-words]");
  const forms = section.querySelector("[data-forms]"), order = section.querySelector("[data-order]");
  const add = section.querySelector("[data-add]"), asks = sheet.querySelector("[data-asks]");
  const blank = sheet.querySelector("[data-blank]"), options = bids.options(mould);
  const columns = table.querySelectorAll("thead th").length - 1;
  const ask = bids.say(said, "ask", {});
  let typed = bids.read(place);
  const say = (key, slots) => bids.say(said, key, slots || {});
  const part = bids.part;
  function finish(worked) {
    if (!worked.spans.length) return bids.lacks(said, worked);
    const [fewer, middle, more] = worked.spans;
    const words = [say("finish", { middle: bids.range(said, middle.low, middle.high), low: bids.near(fewer.low), high: bids.near(more.high) })];
    if (worked.unpriced.length) words.push(say("without", { what: bids.list(said, worked.unpriced) }));
    return words.join(" ");
  }
  function buys(bid) {
    const these = (value) => bids.answers.filter((key) => bid[key] === value), found = [];
    const [yes, no, open] = [these(true), these(false), these(null)];
    if (yes.length) found.push(say("buy-in", { what: bids.list(said, yes) }));
    if (no.length) found.push(say("buy-out", { what: bids.list(said, no) }));
    if (open.length) found.push(say("buy-ask", { what: bids.list(said, open) }));
    if (!no.length && !open.length) found.push(say("buy-paint"));
    return open.length === bids.answers.length ? null : { text: found.join(" "), open: open.length > 0 };
  }
  /* What the form says in a row: its words, and whether something of the row is still to ask; null when nothing. */
  function says(row, bid, worked) {
    const whole = (text) => ({ text, open: false }), some = (text) => ({ text, open: true });
    const told = (key, what) => (bid[key] === null ? null : whole(say(what + (bid[key] ? "-yes" : "-no"))));
    const rows = {
      price() {
        if (bid.total === null) return null;
        const sum = dollars(bid.total);
        return bid.points === null ? some(say("total-alone", { sum })) : whole(say("total", { sum, points: String(bid.points) }));
      },
      rise() {
        if (bid.more === true) return some(say("rise-they"));
        if (bid.more === false && bid.each === null) return some(say("more-no"));
        return bid.each === null ? null : some(say(bid.more === null ? "rise-blank" : "rise-each", { sum: dollars(bid.each) }));
      },
      later() { return buys(bid); },
      ending() { return whole(finish(worked)); },
      besides() {
        const known = ["permit", "panel"].filter((key) => bid[key] !== null).map((key) => say(key + (bid[key] ? "-yes" : "-no")));
        if (bid.points !== null) known.unshift(say("points-listed", { points: String(bid.points) }));
        return known.length ? some([...known, say("other-lines")].join(" ")) : null;
      },
      holes() { return told("holes", "holes"); },
      walls() { return told("holes", "walls"); },
      floors() { return told("floors", "floors"); },
      lead() { return told("lead", "lead"); },
      cleaning() { return told("clean", "clean"); },
    };
    return rows[row] ? rows[row]() : null;
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
      return made;
    }));
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
