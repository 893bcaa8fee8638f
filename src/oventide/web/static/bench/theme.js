/* Night or flour light, as this device was set, before anything is painted. Not a module: it must come first. */
(function () {
  "use strict";
  var root = document.documentElement;
  try {
    var theme = JSON.parse(localStorage.getItem("oventide.theme"));
    if (theme === "night" || theme === "flour") root.dataset.theme = theme;
    var language = JSON.parse(localStorage.getItem("oventide.language"));
    if (typeof language === "string" && language.length === 2) root.lang = language;
  } catch (nothing) {
    root.dataset.kept = "nothing";
  }
})();
