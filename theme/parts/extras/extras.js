/* Extras by the number: a sum for each room, one for all, and each option with it; kept on this phone alone, by job
   and version, as the count of each field and, for the reader's own page, the count of each extra by its key.  It adds
   figures that the build wrote, and its words are those of the page. */
mounts.extras = function (sheet) {
  const list = sheet.querySelector("[data-extras]");
  if (!list) return;
  const place = "extras " + list.dataset.extras;
  const inputs = [...sheet.querySelectorAll(".extras input")];
  const send = list.querySelector(".send"), text = send.querySelector("textarea");
  const words = (element) => element.textContent.replace(/\s+/g, " ").trim();
  const own = (input, name) => input.closest("label").querySelector(name);
  const cents = (some) => some.reduce((sum, line) => sum + line.cents, 0);
  const before = kept.read(place) || {};
  inputs.forEach((input) => { input.value = before[input.name] || ""; });
  const lines = (some) => some.filter((input) => input.validity.valid && input.value > 0).map((input) => ({
    name: input.name, count: +input.value, cents: input.value * own(input, "data").value,
    until: words(input.closest("li").querySelector("a.note") || input.closest("ul").previousElementSibling),
    line: input.closest("[data-place]").dataset.place + ": " + (+input.value) + " × " + words(own(input, "span")),
  }));
  function show(total, some) {
    total.hidden = !some.length;
    total.querySelector("output").textContent = dollars(cents(some));
  }
  function add() {
    const chosen = lines(inputs);
    sheet.querySelectorAll("[data-place]").forEach((here) => {
      const total = here.querySelector("[data-total]");
      if (total) show(total, lines([...here.querySelectorAll("input")]));
    });
    show(list.querySelector(".total"), chosen);
    list.querySelectorAll("tbody tr").forEach((row) => {
      row.querySelector("output").textContent = chosen.length
        ? dollars(+row.querySelector("data").value + cents(chosen)) : "";
    });
    send.hidden = !chosen.length;
    send.dataset.sent = "";
    const counts = {};
    chosen.forEach(({ name, count }) => [name, name.split("--")[1]].forEach((key) => {
      counts[key] = (counts[key] || 0) + count;
    }));
    if (chosen.length) kept.write(place, counts); else kept.forget(place);
  }
  const summary = () => [words(sheet.querySelector("[data-about]")),
    ...lines(inputs).map((line) => line.line + ", " + dollars(line.cents) + ". " + line.until + "."), words(list.querySelector(".total")),
    ...[...list.querySelectorAll("tbody tr")].map((row) => words(row.querySelector("th")) + ": "
      + words(row.querySelector("output")))].join("\n");
  async function copy() {
    try { await navigator.clipboard.writeText(summary()); send.dataset.sent = "copied"; } catch (error) {
      send.dataset.sent = "shown";
      text.value = summary();
      text.select();
    }
  }
  send.querySelector("button").addEventListener("click", async () => {
    if (!navigator.share) return copy();
    try { await navigator.share({ text: summary() }); } catch (error) { if (error.name !== "AbortError") copy(); }
  });
  sheet.addEventListener("input", (event) => { if (inputs.includes(event.target)) add(); });
  add();
};
