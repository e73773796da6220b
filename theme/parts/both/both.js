/* Two readers, one choice: what is marked on this device as a link for another one, behind its #, which is never sent;
   and what such a link brought, shown first and taken over by a tap alone. */
mounts.both = function (sheet) {
  const part = sheet.querySelector("[data-both]");
  if (!part) return;
  const job = sheet.dataset.job, house = job.replace(/-\d+$/, ""), send = sheet.querySelector("[data-send]");
  const places = { yours: "yours " + job, extras: "extras " + job, bids: "bids " + house };
  const at = location.hash.split("."), here = at.length > 1 ? at.slice(0, 2).join(".") + "." : "#";
  const own = () => Object.fromEntries(Object.entries(places).map(([name, place]) => [name, kept.read(place)]));
  const pack = (value) => btoa(String.fromCharCode(...new TextEncoder().encode(JSON.stringify(value)))).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
  const unpack = (text) => JSON.parse(new TextDecoder().decode(Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (one) => one.charCodeAt(0))));
  const some = (value) => (Array.isArray(value) ? value : []);
  send.querySelector("[data-pass]").addEventListener("click", async () => {
    const link = location.href.split("#")[0] + here + "~" + pack({ job, ...own() });
    const field = send.querySelector("textarea");
    send.dataset.sent = "shown passed";
    field.value = link;
    field.select();
    if (navigator.share) try { await navigator.share({ url: link }); } catch (error) { /* it stands on the page */ }
  });
  function brought() {
    const text = placed();
    if (text[0] !== "~") return;
    let all;
    try { all = unpack(text.slice(1)); } catch (error) { all = {}; }
    const end = () => { part.className = "both"; history.replaceState(history.state, "", here + "yours"); };
    const yours = all.yours || {}, extras = all.extras || {}, list = part.querySelector("ul");
    part.className = "both " + (all.job === job ? "here" : "other");
    const named = (selector, is) => [...sheet.querySelectorAll(selector)].filter(is).map((one) => one.querySelector("b").textContent);
    list.replaceChildren(...[...named("[data-choose]", (one) => one.dataset.choose === yours.choice),
      ...named("[data-key]", (one) => extras[one.dataset.key] > 0),
      ...some(all.bids).map((bid) => String(bid.name || "")), ...some(yours.asked).map(String)].filter(Boolean)
      .map((words) => Object.assign(document.createElement("li"), { textContent: words })));
    part.querySelector("[data-take]").onclick = () => {
      const mine = own(), both = (one, other) => [...new Map([...some(one), ...some(other)].map((each) => [JSON.stringify(each), each])).values()];
      kept.write(places.yours, { choice: String(yours.choice || ""), asked: both((mine.yours || {}).asked, some(yours.asked).map(String)) });
      kept.write(places.extras, extras);
      kept.write(places.bids, both(mine.bids, all.bids).slice(0, 3));
      end();
      sheet.dispatchEvent(new Event("taken"));
    };
    part.querySelectorAll("[data-leave]").forEach((one) => { one.onclick = end; });
  }
  brought();
  addEventListener("hashchange", () => { if (sheet.isConnected) brought(); });
};
