/* A change order on a screen: from the record that was signed, lines at set prices or in words of their own, a new total,
   and everybody's signature; out comes a record of its own that names the one before. */
mounts.change = function (sheet) {
  const here = sheet.querySelector("[data-change]"), holds = sheet.querySelector("#agreement-data");
  if (!here) return;
  const data = JSON.parse(holds.textContent), form = here.querySelector("form"), place = "agreement " + sheet.dataset.job;
  const find = (selector) => here.querySelector(selector), shown = (one, is) => one.classList.toggle("shown", Boolean(is));
  const say = sheet.querySelector("[data-step=names]").dataset, lines = find("[data-lines]");
  let prior = null, text = "", pads = [];
  const hash = async (said) => [...new Uint8Array(await crypto.subtle.digest("SHA-512", new TextEncoder().encode(said)))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  const what = () => [...lines.children].map((line) => {
    const item = line.querySelector("select"), count = Number(line.querySelector("[data-count-of]").value), cents = Math.round(Number(line.querySelector("[data-each-of]").value) * 100);
    const own = item.value === "other", says = own ? line.querySelector("[data-says]").value.trim() : item.selectedOptions[0].textContent.trim();
    return { item: item.value, says, count, each: cents, cents: count * cents };
  }).filter(({ item }) => item);
  const cents = () => what().reduce((sum, line) => sum + line.cents, 0);
  function add() {
    find("[data-comes-to]").textContent = dollars(cents());
    find("[data-new-total]").textContent = dollars(prior.total + cents());
  }
  function more() {
    const line = here.querySelector("template").content.cloneNode(true).firstElementChild, item = line.querySelector("select"), each = line.querySelector("[data-each-of]");
    item.querySelectorAll("[data-for]").forEach((one) => { if (one.dataset.for !== prior.option) one.remove(); });
    item.addEventListener("change", () => {
      const set = item.selectedOptions[0].dataset.each;
      shown(line.querySelector("[data-own]"), item.value === "other");
      each.readOnly = set !== undefined;
      each.value = set === undefined ? "" : set / 100;
      add();
    });
    line.addEventListener("input", add);
    lines.append(line);
  }
  function take(said) {
    let found = null;
    try { found = JSON.parse(said); } catch (error) { /* no record */ }
    const is = found && found.job === data.job && ["agreement", "change"].includes(found.kind) && Array.isArray(found.payments);
    shown(find("[data-not]"), !is);
    shown(form, is);
    if (!is) return;
    [prior, text] = [found, said];
    find("[data-signed-when]").textContent = spoken(found.signed_at.slice(0, 10)) + ", " + dollars(found.total);
    lines.replaceChildren();
    more();
    const into = find(".pads");
    into.replaceChildren();
    pads = [...data.signers, say.sayFirm].map((who, i) => pad(into, say, who, { name: i < data.signers.length ? who : data.salesperson.split(",")[0] }, () => {}));
    add();
  }
  find("[data-prior]").addEventListener("change", async (event) => { if (event.target.files[0]) take(await event.target.files[0].text()); });
  find("[data-more-lines]").addEventListener("click", more);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const all = what(), because = form.elements["agreement-because"].value.trim(), days = form.elements["agreement-days"];
    const sound = all.length && all.every((line) => line.says && Number.isInteger(line.count) && line.count > 0 && Number.isInteger(line.each)) && because && days.value !== "" && days.validity.valid
      && pads.every((one) => one.is()) && window.crypto && crypto.subtle;
    shown(find("[data-change-left]"), !sound);
    if (!sound) return;
    const record = {
      format: 1, kind: "change", job: data.job, version: data.version, prior: await hash(text), number: (prior.kind === "change" ? prior.number : 0) + 1, option: prior.option, what: all, cents: cents(), total: prior.total + cents(),
      added_days: Number(days.value), because, payments: prior.payments.map((one, i) => i === prior.payments.length - 1 ? { ...one, cents: one.cents + cents() } : one), signed_at: stamp(),
      signatures: pads.map(({ own }, i) => ({ who: i < data.signers.length ? "owner" : "firm", name: own.name.trim(), at: own.at, by: own.typed ? "typed" : "drawn", strokes: own.typed ? [] : own.strokes })),
    };
    const said = canonical(record), save = find("[data-save-change]");
    Object.assign(save, { href: URL.createObjectURL(new Blob([said], { type: "application/json" })), download: data.job + "-" + data.version + "-change-" + record.number + ".json" });
    kept.write(place + " change", record);
    shown(form, false);
    shown(find("[data-changed]"), true);
  });
  const before = kept.read(place + " change") || (kept.read(place) || {}).record;
  if (before) take(canonical(before));
};
