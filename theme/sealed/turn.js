/* From page to page inside one sealed document: every link is a link of the browser's own, to this document and behind
   the #, so that a new tab, a reload, a bookmark and the way back are the browser's too. */
(({ open, put, link, style, first, rest }) => {
  delete self.sealed;
  const D = document, H = D.documentElement, book = D.getElementById("book"), photographs = {};
  const pages = { index: [first.title, first.body.replace("</main>", () => rest.folds + "</main>" + rest.foot)], ...rest.pages }, all = put("style", rest.style);
  let shown = "open" in H.dataset ? "index" : "", saving;
  all.media = "not all";
  const photograph = (part) => photographs[part] ??= open(part).then((bytes) => URL.createObjectURL(new Blob([bytes], { type: "image/webp" })));
  function dress() {
    book.querySelectorAll("img[data-part]").forEach(async (one) => { one.src = await photograph(Number(one.dataset.part)); });
    if (shown === "paper" && rest.code) book.querySelector("main").insertAdjacentHTML("beforeend", rest.code);
  }
  function show(page) {
    const opens = page === "index";
    shown = page;
    H.className = "";
    D.title = pages[page][0];
    style.media = opens ? "" : "not all";
    all.media = opens ? "not all" : "";
    book.innerHTML = pages[page][1];
    link(page);
    dress();
    H.dataset.open = "";
    put("script", opens ? first.script : rest.script).remove();
    if (rest.own[page]) put("script", rest.own[page]).remove();
  }
  function reveal(id) {
    const found = id && D.getElementById(id);
    for (let fold = found; fold; fold = fold.parentElement) if (fold.tagName === "DETAILS") fold.open = true;
    if (!found) return scrollTo(0, 0);
    found.scrollIntoView();
    if (found.tabIndex < 0) found.tabIndex = -1;
    found.focus({ preventScroll: true });
  }
  function turn() {
    const [, page, id] = location.hash.slice(1).split("."), to = pages[page] ? page : "index", y = history.state?.y;
    if (to !== shown) show(to);
    if (y === undefined) reveal(id); else scrollTo(0, y);
  }
  const save = () => history.replaceState({ y: Math.round(scrollY) }, "");
  addEventListener("scroll", () => { clearTimeout(saving); saving = setTimeout(save, 120); }, { passive: true });
  book.addEventListener("click", (event) => { if (event.target.closest("a[href^='#']")) { clearTimeout(saving); save(); } }, true);
  addEventListener("hashchange", turn);
  try {                                 /* the version that this device opened before this one stands first */
    const place = "opened " + rest.job, was = JSON.parse(localStorage.getItem(place)) || [0, 0];
    if (was[1] !== rest.version) localStorage.setItem(place, JSON.stringify([was[1], rest.version]));
  } catch (error) { /* nothing is kept on this device */ }
  if (shown) {                          /* the first page's folds, which came with the others */
    book.querySelector("main").insertAdjacentHTML("beforeend", rest.folds);
    book.insertAdjacentHTML("beforeend", rest.foot);
    link(shown);
    dress();
  }
  if (shown !== "index" || location.hash.split(".").length > 1 || history.state) turn();
  H.dataset.sealed = "open";
})(self.sealed);
