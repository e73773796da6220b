mounts.pads = function (sheet) {
  if (!sheet) return;
};
