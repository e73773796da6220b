/* A page that is opened after the last day of its prices says so, by the day where the reader is. The words lie ready in
   a template, which an invented house does not have; without scripts the date with its year stands on the sheet. */
mounts.lapsed = function (sheet) {
  const line = sheet.querySelector("[data-lapsed]");
  if (!line) return;
  const now = new Date(), two = (part) => String(part).padStart(2, "0");
  const today = now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  if (today > line.content.querySelector("data").value) sheet.querySelector("h1").after(line.content.cloneNode(true));
};
