/* At the table: one class on the page scales the type, for a tablet that lies between people. The styles show the way
   in where a screen is wide enough; the choice is kept, and holds on every sheet until it is left. A swipe is one
   finger, quick and level: not one that marks words, and not on a page that was made larger. */
mounts.table = function (sheet) {
  const root = document.documentElement;
  if (root.dataset.table) return;
  root.dataset.table = "ready";
  const place = "at the table";
  const wide = matchMedia("(min-width:62.5rem)");
  const tablet = matchMedia("(orientation:landscape) and (pointer:coarse)");
  let chosen = kept.read(place);
  let from;
  const on = () => root.classList.contains("at-table");
  const show = () => root.classList.toggle("at-table", wide.matches && (chosen === null ? tablet.matches : chosen));
  function choose(value) { chosen = value; kept.write(place, value); show(); }
  function turn(way) {
    const link = [...document.querySelectorAll("[data-turn=" + way + "]")].find((one) => one.getClientRects().length);
    if (link) location.assign(link.href);
  }
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-at-table]");
    if (!button) return;
    choose(!on());
    requestAnimationFrame(() => button.scrollIntoView({ block: "center" }));
  });
  document.addEventListener("keydown", (event) => {
    if (!on() || event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (event.key === "Escape") return choose(false);
    if (event.target.closest("input:not([type=checkbox]),textarea,select,[contenteditable]")) return;
    if (event.key === "ArrowLeft") turn("back");
    if (event.key === "ArrowRight") turn("on");
  });
  document.addEventListener("touchstart", (event) => { from = event.touches.length === 1 && event; }, { passive: true });
  document.addEventListener("touchend", (event) => {
    if (!on() || !from || event.timeStamp - from.timeStamp > 700 || visualViewport.scale > 1.01) return;
    if (!getSelection().isCollapsed || event.target.closest("input,textarea,select")) return;
    const [was, is] = [from, event].map((one) => one.changedTouches[0]);
    const x = is.clientX - was.clientX;
    if (Math.abs(x) > 80 && Math.abs(x) > 3 * Math.abs(is.clientY - was.clientY)) turn(x < 0 ? "on" : "back");
  }, { passive: true });
  wide.onchange = tablet.onchange = show;
  addEventListener("storage", () => { chosen = kept.read(place); show(); });    // chosen in another page, or late
  show();
};
