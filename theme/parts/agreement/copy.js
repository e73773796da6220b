/* The signed copy: one HTML file without scripts, to keep and to print.  What was agreed stands in it as the page showed
   it, then what was ticked and when, the signatures as drawn, and both notices filled in. */
const safeText = (text) => String(text).replace(/[&<>"]/g, (sign) => "&#" + sign.charCodeAt(0) + ";");
const LOOKS = "body{font:17px/1.5 system-ui,sans-serif;color:#1f1c19;background:#fff;max-width:44rem;margin:1rem auto;padding:0 1rem}"
  + "h1,h2,h3{font-family:serif;line-height:1.2}table{border-collapse:collapse;width:100%;margin:.75rem 0}"
  + "th,td{text-align:left;vertical-align:top;padding:.35rem .5rem .35rem 0;border-top:1px solid #cfc6b6}.many{text-align:right}"
  + ".law{font-weight:700;border:1px solid #766d60;padding:.75rem}.size-large{font-size:1.1em}.vh{position:absolute;clip-path:inset(50%)}"
  + "svg{display:block;width:100%;max-width:24rem;border-bottom:2px solid}.key{font-weight:700}p.blank{display:flex;gap:.75rem}.notice h3{text-transform:uppercase}.line{flex:1;border-bottom:1px solid}"
  + "@media print{body{font-size:10.5pt;line-height:1.3;max-width:none;margin:0;padding:0}.notice{break-before:page}tr,.law,figure{break-inside:avoid}}";
const copyOf = (sheet, record, sums, mark) => {
  const part = (selector) => {
    const found = sheet.querySelector(selector).cloneNode(true);
    found.querySelectorAll("[id]").forEach((one) => one.removeAttribute("id"));
    found.removeAttribute("aria-labelledby");
    return found.outerHTML;
  };
  const title = sheet.querySelector("h1").textContent, words = (selector) => safeText(sheet.querySelector(selector).textContent.trim());
  const row = (head, text, more) => "<tr><th scope=\"row\">" + safeText(head) + "</th><td" + (more || "") + ">" + text + "</td></tr>";
  const when = (at) => at ? spoken(at.slice(0, 10)) + ", " + at.slice(11, 16) + " (" + at.slice(19) + ")" : sheet.querySelector("[data-say-later]").dataset.sayLater;
  const sign = (one) => "<figure><figcaption>" + safeText(one.name) + ", " + safeText(when(one.at)) + "</figcaption><svg viewBox=\"0 0 1000 400\" role=\"img\" aria-label=\""
    + safeText(one.name) + "\">" + (one.by === "typed" ? "<text x=\"60\" y=\"240\" font-size=\"110\" font-style=\"italic\" font-family=\"serif\">" + safeText(one.name) + "</text>"
      : "<path d=\"" + lineOf(one.strokes) + "\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"5\" stroke-linecap=\"round\"/>") + "</svg></figure>";
  return "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><meta name=\"robots\" content=\"noindex\">"
    + "<title>" + safeText(title + ", " + record.job + ", " + record.signed_at) + "</title><style>" + LOOKS + "</style>"
    + "<h1>" + safeText(title) + "</h1><p>" + words("[data-version]") + "</p><table>" + sums.map((line) => row(line[0], safeText(line[1]), " class=\"many\"")).join("") + "</table>"
    + part("[data-agreement].mine .contract")
    + "<h2>" + words("[data-step=now] legend") + "</h2><table>" + record.statements.map((one) => row(one.says, safeText(when(one.at)))).join("") + "</table>"
    + "<h2>" + words("[data-step=rises] legend") + "</h2><table>" + record.rises.map((one) => row(record.choice.rises.find((rise) => rise.key === one.key).says, safeText(when(one.at)))).join("") + "</table>"
    + "<h2>" + words("[data-step=consent] legend") + "</h2><table>" + row(record.consent.mark, safeText(when(record.consent.at))) + "</table>"
    + "<h2>" + words("[data-step=names] legend") + "</h2>" + [...sheet.querySelectorAll("[data-step=names] .law")].map((one) => one.outerHTML).join("") + record.signatures.map(sign).join("")
    + (mark ? "<p>" + words("[data-mark-line]") + " <b>" + mark + "</b></p>" : "")
    + [...sheet.querySelectorAll(".notice")].map((one) => one.outerHTML.replace(/ (id|aria-labelledby)="[^"]*"/g, "")).join("") + "</html>";
};
