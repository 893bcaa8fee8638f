/* What htmx does not do by itself: a part of a page that comes back leaves alone the box that is being typed in,
   and marks the boxes whose complaint now has words. */
(function () {
  "use strict";
  if (window.htmx) {
    htmx.registerExtension("typing", {
      htmx_before_morph_node: function (node) {
        var typing = node === document.activeElement && /^(INPUT|TEXTAREA|SELECT)$/.test(node.tagName);
        return !typing;
      },
    });
  }
  function mark() {
    document.querySelectorAll("[data-mark]").forEach(function (box) {
      var words = document.getElementById(box.dataset.mark);
      if (words && words.textContent.trim()) {
        box.setAttribute("aria-invalid", "true");
      } else {
        box.removeAttribute("aria-invalid");
      }
    });
  }
  document.addEventListener("htmx:after:swap", mark);
  /* A device that has joined says so with each change; on the laptop itself there is no such cookie. */
  document.addEventListener("htmx:config:request", function (event) {
    var token = /(?:^|; )oventide_token=([0-9a-f]+)/.exec(document.cookie);
    if (token) {
      event.detail.ctx.request.headers["X-Oventide"] = token[1];
    }
  });
})();
