mounts.record = function (sheet) {
  if (!sheet) return;
};
