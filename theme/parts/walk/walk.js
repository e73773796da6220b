/* The walk at the table: one stop at a time on a wide screen, by buttons, arrows, a swipe or the list; where it stood is
   kept, and an option can be set aside and brought back. */
mounts.walk = function (sheet) {
  const stops = [...sheet.querySelectorAll(".stop")], bar = sheet.querySelector("[data-bar]");
  if (!bar) return;
  const root = document.documentElement, wide = matchMedia("(min-width:62.5rem)"), place = "walk " + sheet.dataset.job;
  const find = (id) => stops.findIndex((stop) => id && stop.contains(document.getElementById(id)));
  const here = () => sheet.isConnected && wide.matches;    /* a sealed document takes a page away and keeps the window */
  let at = find(placed()), from;
  if (at < 0) at = Math.min(kept.read(place) || 0, stops.length - 1);
  function show(focus) {
    root.classList.toggle("walking", wide.matches);
    stops.forEach((stop, i) => stop.classList.toggle("now", i === at));
    bar.querySelector("p").textContent = bar.dataset.stop + " " + (at + 1) + " / " + stops.length;
    bar.querySelectorAll("[data-go]").forEach((button) => { button.disabled = button.dataset.go === "on" ? at === stops.length - 1 : !at; });
    bar.querySelector("details").open = false;
    kept.write(place, at);
    if (!focus || !wide.matches) return;
    scrollTo(0, 0);
    stops[at].querySelector("h2").focus({ preventScroll: true });
  }
  function go(step) {
    const next = at + step;
    if (next < 0 || next >= stops.length) return;
    at = next;
    show(true);
  }
  bar.querySelectorAll("[data-go]").forEach((button) => button.addEventListener("click", () => go(button.dataset.go === "on" ? 1 : -1)));
  bar.querySelectorAll("li a").forEach((link, i) => link.addEventListener("click", (event) => {
    if (!wide.matches) return;
    event.preventDefault();
    at = i;
    show(true);
  }));
  bar.querySelectorAll("[data-away]").forEach((button) => {
    const say = bar.querySelector(".aside").dataset, name = button.textContent;
    const label = (away) => {
      button.setAttribute("aria-pressed", away);
      button.setAttribute("aria-label", (away ? say.againSay : say.awaySay) + ": " + name);
    };
    label(false);
    button.addEventListener("click", () => {
      const away = button.getAttribute("aria-pressed") !== "true";
      sheet.querySelectorAll("[data-of-option=" + button.dataset.away + "]").forEach((cell) => cell.classList.toggle("away", away));
      label(away);
    });
  });
  const writes = (target) => target.closest("input:not([type=checkbox]):not([type=radio]),textarea,select,[contenteditable]");
  document.addEventListener("keydown", (event) => {
    if (!here() || event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey || writes(event.target)) return;
    if (event.key === "ArrowLeft") go(-1);
    if (event.key === "ArrowRight") go(1);
  });
  document.addEventListener("touchstart", (event) => { from = event.touches.length === 1 && event; }, { passive: true });
  document.addEventListener("touchend", (event) => {
    if (!here() || !from || event.timeStamp - from.timeStamp > 700 || visualViewport.scale > 1.01) return;
    if (!getSelection().isCollapsed || writes(event.target)) return;
    const [was, is] = [from, event].map((one) => one.changedTouches[0]), x = is.clientX - was.clientX;
    if (Math.abs(x) > 80 && Math.abs(x) > 3 * Math.abs(is.clientY - was.clientY)) go(x < 0 ? 1 : -1);
  }, { passive: true });
  wide.addEventListener("change", () => { if (sheet.isConnected) show(false); });
  addEventListener("hashchange", () => { const next = sheet.isConnected ? find(placed()) : -1; if (next >= 0) { at = next; show(true); } });
  root.dataset.walk = "ready";
  show(false);
};
