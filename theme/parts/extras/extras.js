/* Extras: a running total, kept on this phone alone, by job and version, and a list of what was ticked to send on or
   copy. It adds figures that the build wrote, and its words are those of the page. */
mounts.extras = function (sheet) {
  const list = sheet.querySelector("[data-extras]");
  if (!list) return;
  const place = "extras " + list.dataset.extras;
  const boxes = [...list.querySelectorAll("input[type=checkbox]")];
  const [total, send] = sheet.querySelectorAll("[data-total]");
  const text = send.querySelector("textarea");
  const before = kept.read(place) || [];
  boxes.forEach((box) => { box.checked = before.includes(box.value); });
  const ticked = () => boxes.filter((box) => box.checked);
  const item = (box) => box.closest("li");
  const words = (element) => element.textContent.replace(/\s+/g, " ").trim();
  function add() {
    const cents = ticked().reduce((sum, box) => sum + Number(item(box).querySelector("data").value), 0);
    total.hidden = send.hidden = ticked().length === 0;
    total.querySelector("output").textContent = dollars(cents);
    send.dataset.sent = "";
    kept.write(place, ticked().map((box) => box.value));
  }
  const summary = () => [sheet.querySelector("[data-about]"), ...ticked(), total].map((one) => one.value ?
    words(one.nextElementSibling) + ": " + words(item(one).querySelector("data")) + ". "
    + words(item(one).parentElement.previousElementSibling) + "." : words(one)).join("\n");
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
  list.addEventListener("change", add);
  add();
};
