/* What a record is made with: canonical JSON (RFC 8785), times with their zone, business days, a short fingerprint.
   Whole numbers and text alone stand in a record, so that the number form of the language is that of the standard. */
const canonical = (value) => Array.isArray(value) ? "[" + value.map(canonical).join(",") + "]"
  : value && typeof value === "object"
    ? "{" + Object.keys(value).sort().map((key) => JSON.stringify(key) + ":" + canonical(value[key])).join(",") + "}"
    : JSON.stringify(typeof value === "string" ? value.replace(/\p{Surrogate}/gu, "\ufffd") : value);
const two = (number) => String(number).padStart(2, "0");
const stamp = (now = new Date()) => {
  const off = -now.getTimezoneOffset(), far = Math.abs(off);
  return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate()) + "T" + two(now.getHours()) + ":"
    + two(now.getMinutes()) + ":" + two(now.getSeconds()) + (off < 0 ? "-" : "+") + two(Math.floor(far / 60)) + ":" + two(far % 60);
};
/* The days that count after a day: any but a Sunday and a holiday; the last of them is the last day to cancel. */
const counted = (day, count, holidays) => {
  const days = [], at = new Date(day + "T12:00:00Z");
  while (days.length < count) {
    at.setUTCDate(at.getUTCDate() + 1);
    const one = at.toISOString().slice(0, 10);
    if (at.getUTCDay() && !holidays.includes(one)) days.push(one);
  }
  return days;
};
/* The days from the one after a day to the last that counts which do not count themselves. */
const passed = (day, days) => {
  const found = [], at = new Date(day + "T12:00:00Z"), last = days[days.length - 1];
  for (let one = ""; one !== last;) {
    at.setUTCDate(at.getUTCDate() + 1);
    one = at.toISOString().slice(0, 10);
    if (!days.includes(one)) found.push(one);
  }
  return found;
};
const spoken = (day, weekday) => new Date(day + "T12:00:00Z").toLocaleDateString("en-US",
  { timeZone: "UTC", month: "short", day: "numeric", ...(weekday ? { weekday: "long" } : { year: "numeric" }) });
/* The first sixteen digits of SHA-256, in groups of four; null where the browser gives no cryptography. */
const fingerprint = async (text) => {
  if (!window.crypto || !crypto.subtle) return null;
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text)));
  return [...sum.slice(0, 8)].map((byte) => byte.toString(16).padStart(2, "0")).join("").match(/.{4}/g).join(" ");
};
