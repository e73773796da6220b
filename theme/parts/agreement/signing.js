mounts.signing = function (sheet) {
  if (!sheet) return;
};
