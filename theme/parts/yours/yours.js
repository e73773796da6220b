/* The reader's own page: gathers what other pages keep on this device under the job, and shares, prints or clears it. */
mounts.yours = function (sheet) {
  const job = sheet.dataset.job, place = "yours " + job;
  const all = sheet.querySelector("[data-gathered]"), send = sheet.querySelector("[data-send]");
  if (!all) return;
  sheet.classList.add("gathering");
  const list = (name) => all.querySelector("[data-gather=" + name + "]");
  const read = () => ({ asked: [], choice: "", ...kept.read(place) });
  const filled = (one, is) => one.parentElement.classList.toggle("filled", is);
  const line = (words) => Object.assign(document.createElement("li"), { textContent: words });
  function show() {
    const bids = kept.read("bids " + job.replace(/-\d+$/, "")) || [], extras = kept.read("extras " + job) || [];
    const counts = Array.isArray(extras) ? Object.fromEntries(extras.map((key) => [key, 1])) : extras;
    const rows = [...list("extras").children];
    rows.forEach((row) => {
      const count = counts[row.dataset.key] || 0;
      row.classList.toggle("in", count > 0);
      row.querySelector("[data-count]").textContent = count > 1 ? "× " + count : "";
    });
    filled(list("extras"), rows.some((row) => row.classList.contains("in")));
    list("bids").replaceChildren(...bids.map((bid) => line([bid.name, bid.price].filter(Boolean).join(", "))));
    filled(list("bids"), bids.length > 0);
    const asked = read().asked;
    list("asked").replaceChildren(...asked.map((words) => {
      const made = line(words), off = document.createElement("button");
      Object.assign(off, { type: "button", className: "pin", textContent: list("asked").dataset.takeOff });
      off.setAttribute("aria-label", off.textContent + ": " + words);
      off.addEventListener("click", () => { ask(read().asked.filter((other) => other !== words)); sheet.querySelector(".own textarea").focus(); });
      made.append(off);
      return made;
    }));
    filled(list("asked"), asked.length > 0);
  }
  function ask(asked) { kept.write(place, { ...read(), asked }); show(); }
  sheet.querySelector(".own").addEventListener("submit", (event) => {
    event.preventDefault();
    const field = event.target.querySelector("textarea"), words = field.value.trim();
    if (words && !read().asked.includes(words)) ask([...read().asked, words]);
    field.value = "";
  });
  const said = (one) => [...one.childNodes].filter((part) => part.nodeName !== "BUTTON").map((part) => part.textContent).join("").replace(/\s+/g, " ").trim();
  const text = () => [said(all.querySelector("[data-heading]")), ...[...all.querySelectorAll("section")].map((section) => {
    const lines = [...section.querySelectorAll("li")].filter((one) => one.checkVisibility() && (!one.dataset.choose || one.dataset.choose === read().choice));
    return lines.length ? said(section.querySelector("h2")) + ":\n" + lines.map((one) => "- " + said(one)).join("\n") : "";
  })].filter(Boolean).join("\n\n");
  async function copy() {
    try { await navigator.clipboard.writeText(text()); send.dataset.sent = "copied"; } catch (error) {
      send.dataset.sent = "shown";
      const field = send.querySelector("textarea");
      field.value = text();
      field.select();
    }
  }
  send.querySelector("[data-share]").addEventListener("click", async () => {
    if (!navigator.share) return copy();
    try { await navigator.share({ text: text() }); } catch (error) { if (error.name !== "AbortError") copy(); }
  });
  send.querySelector("[data-print]").addEventListener("click", () => print());
  const clear = send.querySelector("[data-clear]"), asks = clear.textContent;
  clear.addEventListener("click", () => {
    if (clear.textContent === asks) { clear.textContent = clear.dataset.sure; return; }
    kept.wipe(job.replace(/-\d+$/, ""));
    clear.textContent = asks;
    send.dataset.sent = "cleared";
    sheet.querySelectorAll(".pin[aria-pressed=true]").forEach((mark) => mark.dispatchEvent(new Event("again")));
    show();
  });
  sheet.addEventListener("taken", () => {
    sheet.querySelectorAll(".pin").forEach((mark) => mark.dispatchEvent(new Event("again")));
    show();
  });
  show();
};
