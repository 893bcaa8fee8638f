/* The search by keyboard: "/" comes to it from any page (unless that is switched off on its page), the arrow keys go
   through what was found, Enter opens. Without this script the search still answers, by its button. */
(function () {
  "use strict";
  var KEPT = "oventide-slash";

  function slashIsOff() {
    try { return localStorage.getItem(KEPT) === "off"; } catch (refused) { return false; }
  }
  function typing(node) {
    return node && (/^(INPUT|TEXTAREA|SELECT)$/.test(node.tagName) || node.isContentEditable);
  }
  function hits() {
    return Array.prototype.slice.call(document.querySelectorAll("#found a.hit"));
  }
  document.addEventListener("keydown", function (event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented || event.isComposing) { return; }
    var box = document.querySelector("[data-find]");
    if (event.key === "/" && !typing(document.activeElement) && !slashIsOff()) {
      event.preventDefault();
      if (box) { box.focus(); box.select(); } else { location.assign("/find"); }
      return;
    }
    if (!box) { return; }
    var here = document.activeElement;
    var all = hits();
    var at = all.indexOf(here);
    if (here !== box && at < 0) { return; }
    var to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: at < 0 ? null : 0, End: at < 0 ? null : all.length - 1 }[event.key];
    if (to === undefined || to === null || to < -1 || !all.length) { return; }
    event.preventDefault();
    if (to === -1) { box.focus(); } else { (all[to] || all[all.length - 1]).focus(); }
  });

  document.addEventListener("DOMContentLoaded", function () {
    var slash = document.getElementById("slash");
    if (!slash) { return; }
    slash.checked = !slashIsOff();
    slash.addEventListener("change", function () {
      try { localStorage.setItem(KEPT, slash.checked ? "on" : "off"); } catch (refused) { /* kept for this page only */ }
    });
  });
})();
