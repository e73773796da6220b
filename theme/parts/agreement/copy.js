mounts.copy = function (sheet) {
  if (!sheet) return;
};
