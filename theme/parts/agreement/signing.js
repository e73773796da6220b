/* Page 7: choose and add up, sign on paper or on this screen, and hand out the record.  What is ticked and drawn is kept on
   this device by job and version, and goes nowhere until somebody saves or shares it. */
mounts.signing = function (sheet) {
  const holds = sheet.querySelector("#agreement-data");
  if (!holds) return;
  const data = JSON.parse(holds.textContent), job = sheet.dataset.job, place = "agreement " + job;
  const find = (selector) => sheet.querySelector(selector), all = (selector) => [...sheet.querySelectorAll(selector)];
  const make = (name, text) => Object.assign(document.createElement(name), { textContent: text });
  const comes = find("[data-comes]"), form = find("[data-steps]"), made = find("[data-signed]");
  const fresh = () => ({ option: (kept.read("yours " + job) || {}).choice || "", extras: {}, consent: null, ticks: {}, rises: {}, names: [], on: false, record: null });
  let draft = { ...fresh(), ...kept.read(place) };
  const marked = kept.read("extras " + job);
  if (!kept.read(place) && marked) data.extras.forEach(({ key }) => { const count = Array.isArray(marked) ? +marked.includes(key) : marked[key]; if (count) draft.extras[key] = count; });
  const choice = () => data.choices.find((one) => one.option === draft.option && !one.refused);
  const lives = () => ({ stays: "lived-in", leaves: "empty" })[kept.read("lives " + location.pathname.replace(/[^/]*$/, ""))];
  const added = () => data.extras.filter(({ key }) => draft.extras[key] > 0).map((one) => ({ ...one, count: draft.extras[one.key] }));
  const more = () => added().reduce((sum, one) => sum + one.each * one.count, 0);
  const keep = () => kept.write(place, draft);
  const shown = (one, is) => one.classList.toggle("shown", Boolean(is));
  const payments = (one) => one.payments.map(({ after, cents }, i) => ({ after, cents: cents + (i === one.payments.length - 1 ? more() : 0) }));
  let sums = [];
  function sum() {
    const one = choice();
    comes.classList.toggle("has", Boolean(one));
    sheet.classList.toggle("picked", Boolean(one));
    all("[data-option],[data-agreement]").forEach((part) => part.classList.toggle("mine", Boolean(one) && (part.dataset.option || part.dataset.agreement) === one.option));
    all("[data-agreement]").forEach((part) => { part.hidden = Boolean(one) && !part.classList.contains("mine"); });
    if (!one) return;
    const due = payments(one);
    sums = [[comes.dataset.sayOption + ": " + one.name, dollars(one.price)], ...added().map((extra) => [extra.count + " × " + extra.says, dollars(extra.each * extra.count)]),
      [comes.dataset.sayTotal, dollars(one.price + more())],
      ...one.payments.map(({ says }, i) => [more() && i === due.length - 1 ? says + ". " + comes.dataset.sayLast : says, dollars(due[i].cents)])];
    const total = 1 + added().length;
    comes.querySelector("tbody").replaceChildren(...sums.map(([head, text], i) => {
      const row = document.createElement("tr"), cell = make("td", text);
      if (i === total) row.className = "all";
      cell.className = "many";
      row.append(Object.assign(make("th", head), { scope: "row" }), cell);
      return row;
    }));
    const fill = { option: one.name + ", " + dollars(one.price), extras: added().map((extra) => extra.count + " × " + extra.says + ", " + dollars(extra.each * extra.count)).join("; "), total: dollars(one.price + more()) };
    Object.entries(fill).forEach(([key, text]) => all("[data-fill=" + key + "]").forEach((cell) => { cell.textContent = text; }));
  }
  /* Another choice is another agreement: what was read, ticked and signed of the one before does not hold for it. */
  function changed() {
    draft.rises = {};
    delete draft.ticks["agreement-read"];
    delete draft.ticks["right-to-cancel"];
    draft.names = draft.names.map(({ name }) => ({ name }));
    shown(find("[data-first]"), false);
    keep();
    sum();
    if (form) steps();
  }
  all(".pick-one input[name=agreement-option]").forEach((one) => {
    one.checked = one.value === draft.option && !one.disabled;
    one.addEventListener("change", () => { draft.option = one.value; changed(); });
  });
  all("[data-extra]").forEach((one) => {
    one.value = draft.extras[one.dataset.extra] || "";
    one.addEventListener("input", () => { draft.extras[one.dataset.extra] = one.validity.valid ? Number(one.value) : 0; changed(); });
  });
  sum();
  if (!form) return;
  const lists = (name) => find("[data-step=" + name + "]");
  function box(list, says, is, toggle, name, type = "checkbox") {
    const line = document.createElement("label"), input = Object.assign(document.createElement("input"), { type, checked: Boolean(is) });
    if (name) input.name = name;
    input.addEventListener("change", () => { toggle(input.checked); keep(); });
    line.append(input, make("span", says));
    list.append(line);
  }
  function statement(one) {
    const line = document.createElement("li"), say = lists("now").dataset, tick = draft.ticks[one.key] || {};
    const set = (state) => (on) => { if (on) draft.ticks[one.key] = { state, at: state === "done" ? stamp() : null }; else delete draft.ticks[one.key]; };
    if (one.due === "now") box(line, one.says, tick.state === "done", set("done"));
    else {
      line.append(make("p", one.says));
      box(line, say.sayDone, tick.state === "done", set("done"), "agreement-tick-" + one.key, "radio");
      box(line, say.sayLater, tick.state === "due-before-start", set("due-before-start"), "agreement-tick-" + one.key, "radio");
    }
    return line;
  }
  let pads = [];
  function steps() {
    const last = ["agreement-read", "right-to-cancel"], one = choice();
    lists("now").querySelector("ul").replaceChildren(...data.statements.filter(({ key }) => !last.includes(key)).map(statement));
    lists("read").querySelector("ul").replaceChildren(...data.statements.filter(({ key }) => last.includes(key)).map(statement));
    const rises = one ? one.rises : [];
    lists("rises").classList.toggle("without", !rises.length);
    shown(lists("rises").querySelector("[data-none]"), !rises.length);
    lists("rises").querySelector("ul").replaceChildren(...rises.map((rise) => {
      const line = document.createElement("li");
      box(line, rise.says, draft.rises[rise.key], (on) => { if (on) draft.rises[rise.key] = stamp(); else delete draft.rises[rise.key]; });
      return line;
    }));
    const names = lists("names"), into = names.querySelector(".pads");
    into.replaceChildren();
    pads = [...data.signers, names.dataset.sayFirm].map((who, i) => {
      const name = i < data.signers.length ? who : data.salesperson.split(",")[0];
      return pad(into, names.dataset, who, { name, ...draft.names[i] }, (own) => { draft.names[i] = own; keep(); });
    });
    find("[data-consent]").value = (draft.consent || {}).mark || "";
  }
  find("[data-consent]").addEventListener("input", (event) => {
    const typed = event.target.value.replace(/[^a-z]/gi, "").toUpperCase(), is = typed === form.dataset.mark;
    draft.consent = is ? { mark: typed, at: stamp() } : null;
    shown(lists("consent").querySelector(".wrong"), typed.length >= form.dataset.mark.length && !is);
    keep();
  });
  /* The legends and statements that are still open, in their order, and where the first of them stands. */
  function left() {
    const open = [], want = (is, words, where) => { if (!is) open.push([words, where]); };
    const legend = (name) => lists(name).querySelector("legend").textContent;
    want(lives(), find("[data-lives] legend").textContent, find("[data-lives]"));
    want(draft.consent, legend("consent"), lists("consent"));
    data.statements.forEach((one) => want(draft.ticks[one.key], one.says, lists(one.key.match(/^(agreement-read|right-to-cancel)$/) ? "read" : "now")));
    choice().rises.forEach((rise) => want(draft.rises[rise.key], rise.says, lists("rises")));
    pads.forEach((one, i) => want(one.is(), legend("names") + ": " + (data.signers[i] || data.firm), one.canvas));
    return open;
  }
  function recorded() {
    const one = choice(), signed = stamp(), copy = draft.ticks["copy-in-hand"].at;
    const day = [signed, copy].map((at) => at.slice(0, 10)).sort()[1];
    return {
      format: 1, kind: "agreement", job: data.job, version: data.version, offer: form.dataset.offer, option: one.option, lives: lives(),
      extras: added().map(({ key, count }) => ({ key, count })).sort((a, b) => a.key < b.key ? -1 : 1), total: one.price + more(), payments: payments(one), choice: one,
      work_starts: data.work_starts, cancel_by: counted(day, data.cancel_days, data.holidays).pop(), signed_at: signed, copy_in_hand_at: copy,
      statements: data.statements.map(({ key, says }) => ({ key, says, ...draft.ticks[key] })), rises: one.rises.map(({ key }) => ({ key, at: draft.rises[key] })),
      consent: draft.consent, way: "screen",
      signatures: pads.map(({ own }, i) => ({ who: i < data.signers.length ? "owner" : "firm", name: own.name.trim(), at: own.at, by: own.typed ? "typed" : "drawn", strokes: own.typed ? [] : own.strokes })),
    };
  }
  const link = (selector, text, type, name) => Object.assign(find(selector), { href: URL.createObjectURL(new Blob([text], { type })), download: name });
  async function done(move) {
    const record = draft.record, text = canonical(record), stem = record.job + "-" + record.version + "-agreement";
    const day = [record.signed_at, record.copy_in_hand_at].map((at) => at.slice(0, 10)).sort()[1];
    all("[data-signed-on]").forEach((one) => { one.textContent = spoken(day); });
    all("[data-cancel-by]").forEach((one) => { one.textContent = spoken(record.cancel_by); });
    const days = counted(day, data.cancel_days, data.holidays), not = passed(day, days), said = (some) => some.map((one) => spoken(one, true)).join("; ") + ".";
    find("[data-counted]").textContent = said(days);
    find("[data-not-counted] span").textContent = said(not);
    shown(find("[data-not-counted]"), not.length);
    const mark = await fingerprint(text);
    find("[data-print-of]").textContent = mark || made.dataset.sayNoMark;
    shown(find("[data-mark-line]"), mark);
    link("[data-save-record]", text, "application/json", stem + ".json");
    const { href } = link("[data-save-copy]", copyOf(sheet, record, sums, mark), "text/html", stem + ".html");
    Object.assign(find("[data-open-copy]"), { href, target: "_blank" });
    const file = new File([text], stem + ".json", { type: "application/json" }), share = find("[data-share-record]");
    shown(share, navigator.canShare && navigator.canShare({ files: [file] }));
    share.onclick = () => navigator.share({ files: [file] }).catch(() => {});
    form.classList.remove("shown");
    shown(made, true);
    all(".pick-one input").forEach((one) => { one.disabled = true; });
    if (move) made.querySelector("h3").focus();
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const open = left(), says = find("[data-left]");
    says.textContent = open.length ? says.dataset.left + " " + open.map(([words]) => words.replace(/[.?]$/, "")).join("; ") + "." : "";
    shown(says, open.length);
    if (open.length) { open[0][1].scrollIntoView({ block: "center" }); return; }
    draft.record = recorded();
    keep();
    done(true);
  });
  find("[data-again]").addEventListener("click", () => { draft = { ...fresh(), option: draft.option, extras: draft.extras, on: true }; keep(); steps(); });
  const lapsed = !data.demo && stamp().slice(0, 10) > data.hold_to;
  all("[data-way]").forEach((one) => one.addEventListener("click", () => {
    shown(find("[data-first]"), !choice());
    if (!choice()) { find("#agreement-choose").scrollIntoView(); return; }
    if (one.dataset.way === "paper") { print(); return; }
    shown(find("[data-over]"), lapsed);
    if (lapsed || draft.record) return;
    draft.on = true;
    keep();
    shown(form, true);
    form.scrollIntoView();
  }));
  steps();
  if (draft.record) done(false); else if (draft.on && choice() && !lapsed) shown(form, true);
};
