/* Features of the sheets. Each is a function of one sheet's main part and may be mounted on any number of them.
   Everything stands on the sheet without this file. */
"use strict";

/* Extras: a running total, kept on this phone alone, by job and version. It adds figures that the build wrote. */
function mountExtras(sheet) {
  const list = sheet.querySelector("[data-extras]");
  if (!list) return;
  const place = "extras " + list.dataset.extras;
  const boxes = [...list.querySelectorAll("input[type=checkbox]")];
  const total = sheet.querySelector("[data-total]");
  let kept = [];
  try { kept = JSON.parse(localStorage.getItem(place)) || []; } catch (error) { kept = []; }
  boxes.forEach((box) => { box.checked = kept.includes(box.value); });
  function add() {
    const ticked = boxes.filter((box) => box.checked);
    const cents = ticked.reduce((sum, box) => sum + Number(box.closest("li").querySelector("data").value), 0);
    total.hidden = ticked.length === 0;
    total.querySelector("output").textContent = "$" + (cents / 100).toLocaleString("en-US", cents % 100
      ? { minimumFractionDigits: 2 } : {});
    try { localStorage.setItem(place, JSON.stringify(ticked.map((box) => box.value))); } catch (error) { /* not kept */ }
  }
  list.addEventListener("change", add);
  add();
}

function mount(sheet) {
  mountExtras(sheet);
}

document.querySelectorAll("main").forEach(mount);
