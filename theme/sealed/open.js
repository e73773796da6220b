/* Opens a sealed document: reads the key behind the #, which was never sent, and shows the first page as soon as its part
   is here. What goes wrong is said by the gate, whose words stand ready. */
(async () => {
  const D = document, H = D.documentElement, book = D.getElementById("book"), subtle = crypto.subtle, closed = D.title;
  const whole = new Promise((done) => D.addEventListener("DOMContentLoaded", done));
  const shut = (why) => { book.textContent = ""; D.title = closed; delete H.dataset.open; H.dataset.shut = why; };
  const [given, page] = location.hash.slice(1).split("."), key = given.toLowerCase();
  if (self !== top) return shut("framed");
  if (!key) return shut("missing");
  if (key.length !== 26) return shut("short");
  if (!self.isSecureContext) return shut("plain");
  if (!subtle || !self.DecompressionStream) return shut("old");
  history.scrollRestoration = "manual";
  const text = (words) => new TextEncoder().encode(words);
  const bytes = (words) => {              /* a loop: a call for each of 200,000 signs keeps a phone busy for a blink */
    if (Uint8Array.fromBase64) return Uint8Array.fromBase64(words);
    const read = atob(words), made = new Uint8Array(read.length);
    for (let i = 0; i < read.length; i += 1) made[i] = read.charCodeAt(i);
    return made;
  };
  const parts = () => [...D.querySelectorAll("[data-part-of]")].map((one) => one.textContent);
  const head = D.querySelector("[data-part-of]").dataset, bind = head.partOf;
  const put = (tag, words) => { const made = D.createElement(tag); made.textContent = words; D.head.append(made); return made; };
  const damaged = async () => {
    await whole;
    const sum = new Uint8Array(await subtle.digest("SHA-256", text([head.salt, bind, ...parts()].join("|"))));
    return [...sum].map((one) => one.toString(16).padStart(2, "0")).join("") !== D.getElementById("sum")?.textContent;
  };
  const link = (here) => book.querySelectorAll("a[href]").forEach((one) => {
    const to = /^(?:([a-z0-9-]+)\.html)?(?:#([a-z0-9-]*))?$/.exec(one.getAttribute("href"));
    if (to) one.setAttribute("href", "#" + [key, to[1] || here, to[2]].filter(Boolean).join("."));
  });
  const opened = ({ job, version }) => { try { const was = JSON.parse(localStorage.getItem("opened " + job)); return was[1] === version ? was[0] : was[1]; } catch (error) { return 0; } };
  try {
    const cipher = await subtle.deriveKey({ name: "HKDF", hash: "SHA-256", salt: bytes(head.salt), info: text("sealed 1") },
      await subtle.importKey("raw", text(key), "HKDF", false, ["deriveKey"]), { name: "AES-GCM", length: 256 }, false, ["decrypt"]);
    const open = async (i) => {
      const iv = new Uint8Array(12), additionalData = text(["1", bind, i, head.count].join("|"));
      new DataView(iv.buffer).setUint32(8, i);
      const plain = new Uint8Array(await subtle.decrypt({ name: "AES-GCM", iv, additionalData }, cipher, bytes(parts()[i])));
      return plain.subarray(4, 4 + new DataView(plain.buffer).getUint32(0));
    };
    const read = async (i) => JSON.parse(await new Response(new Blob([await open(i)]).stream().pipeThrough(new DecompressionStream("deflate"))).text());
    const first = await read(0), style = put("style", first.style), seen = first.seen && first.seen[opened(first)];
    if (seen) first.body = first.body.replace("</h1>", "</h1>" + seen);
    if (!page || page === "index") {
      D.title = first.title;
      book.innerHTML = first.body;
      link("index");
      H.dataset.open = "";
      put("script", first.script).remove();
      await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));   /* seen before anything else is done */
    }
    if (await damaged()) return shut("damaged");
    self.sealed = { key, open, put, link, style, first, rest: await read(1) };
    put("script", self.sealed.rest.turn).remove();
  } catch (error) { shut(await damaged() ? "damaged" : "wrong"); }
})();
