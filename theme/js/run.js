/* What every script of a sheet ends with. */
document.querySelectorAll("main").forEach((sheet) => Object.entries(mounts).forEach(([name, mount]) => {
  const done = (sheet.dataset.mounted || "").split(" ");
  if (done.includes(name)) return;
  sheet.dataset.mounted = [...done, name].join(" ").trim();
  mount(sheet);
}));
