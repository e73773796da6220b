/* Marks for the reader's own page: a question on whatever has `data-ask`, with the words that it holds, and one option
   among those that have `data-choose`. Kept on this device alone, by job and version; nothing is sent. */
mounts.ask = function (sheet) {
  const job = sheet.dataset.job, say = sheet.dataset;
  if (!job || !say.sayAsk) return;
  const place = "yours " + job;
  const read = () => ({ asked: [], choice: "", ...kept.read(place) });
  const again = [];
  function button(into, words, is, toggle) {
    const made = into.appendChild(Object.assign(document.createElement("button"), { type: "button", className: "pin" }));
    const show = () => {
      made.textContent = words[Number(is())];
      made.setAttribute("aria-pressed", is());
      made.setAttribute("aria-label", made.textContent + ": " + (into.dataset.ask || into.dataset.named));
    };
    made.addEventListener("again", show);
    made.addEventListener("click", () => { kept.write(place, toggle(read())); again.forEach((one) => one()); });
    again.push(show);
    show();
  }
  sheet.querySelectorAll("[data-ask]").forEach((one) => {
    const words = one.dataset.ask, is = () => read().asked.includes(words);
    button(one, [say.sayAsk, say.sayAsked], is, (all) => ({ ...all,
      asked: is() ? all.asked.filter((other) => other !== words) : [...all.asked, words] }));
  });
  sheet.querySelectorAll("[data-choose]").forEach((one) => {
    const key = one.dataset.choose, is = () => read().choice === key;
    button(one, [say.sayThis, say.sayChosen], is, (all) => ({ ...all, choice: is() ? "" : key }));
  });
};
