/* Whether people live in the house: kept on this device for this site, and shown on every page of it as a class of the
   root. Until there is an answer both cases stand. */
mounts.lives = (sheet) => {
  const place = "lives " + location.pathname.replace(/[^/]*$/, "");
  const show = (answer) => {
    ["stays", "leaves"].forEach((one) => document.documentElement.classList.toggle(one, one === answer));
    document.querySelectorAll("[data-lives] input").forEach((one) => { one.checked = one.value === answer; });
  };
  show(kept.read(place));
  sheet.querySelectorAll("[data-lives] input").forEach((one) => {
    one.onchange = () => { kept.write(place, one.value); show(one.value); };
  });
};
