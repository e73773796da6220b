/* Extras: a running total, kept on this phone alone, by job and version. It adds figures that the build wrote. */
mounts.extras = function (sheet) {
  const list = sheet.querySelector("[data-extras]");
  if (!list) return;
  const place = "extras " + list.dataset.extras;
  const boxes = [...list.querySelectorAll("input[type=checkbox]")];
  const total = sheet.querySelector("[data-total]");
  const before = kept.read(place) || [];
  boxes.forEach((box) => { box.checked = before.includes(box.value); });
  function add() {
    const ticked = boxes.filter((box) => box.checked);
    const cents = ticked.reduce((sum, box) => sum + Number(box.closest("li").querySelector("data").value), 0);
    total.hidden = ticked.length === 0;
    total.querySelector("output").textContent = dollars(cents);
    kept.write(place, ticked.map((box) => box.value));
  }
  list.addEventListener("change", add);
  add();
};
