(function () {
  "use strict";
  var root = document.documentElement;
  root.classList.add("scripted");
  try {
    var kept = localStorage.getItem("diagtree-theme");
    if (kept === "dark" || kept === "light") root.dataset.theme = kept;
  } catch (refused) { /* Nothing is kept then; the system's choice stands. */ }
})();
