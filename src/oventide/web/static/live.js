/* Tells on an evening page what was saved elsewhere meanwhile, and leaves alone what is being typed. */
(function () {
  "use strict";
  var main = document.getElementById("main");
  var place = /^\/(formulas|kitchens)\/([a-z0-9-]+)(\/|$)/.exec(location.pathname);
  if (!main || !main.dataset.mark || !window.EventSource || (!place && location.pathname !== "/")) {
    return;
  }
  var folder = place && place[1];
  var kind = folder === "kitchens" ? "kitchen" : "product";
  var since = main.dataset.mark;
  var told = 0;
  var leaving = false;
  var source = null;
  var later = 0;

  var news = document.createElement("div");
  news.className = "news";
  news.setAttribute("role", "status");
  main.append(news);

  function where(by) {
    if (by === null || by === undefined) {
      return "by another program";
    }
    if (by === main.dataset.device) {
      return "in another window";
    }
    return by === "" ? "on the laptop" : "on " + by;
  }

  function show(words, address) {
    var text = document.createElement("p");
    text.textContent = words;
    var look = document.createElement("a");
    look.className = "plain";
    look.href = address;
    look.textContent = "Look at it";
    var leave = document.createElement("button");
    leave.type = "button";
    leave.className = "plain";
    leave.textContent = "Not now";
    leave.addEventListener("click", function () {
      news.replaceChildren();
      document.documentElement.classList.remove("has-news");
    });
    news.replaceChildren(text, look, leave);
    document.documentElement.classList.add("has-news");
  }

  function saved(event) {
    var what = JSON.parse(event.data);
    if (leaving) {
      return;
    }
    if (!place) {
      show("The shelf has changed: something was saved " + where(what.by) + ".", "/");
    } else if (what.kind === kind && what.key === place[2] && what.number > told) {
      told = what.number;
      show("Revision " + what.number + " was saved " + where(what.by) + ". What you type here stays as it is.",
        "/" + folder + "/" + what.key + "?revision=" + what.number);
    }
  }

  function listen() {
    close();
    source = new EventSource("/changes?since=" + encodeURIComponent(since));
    ["shelf", "bake", "again"].forEach(function (name) {
      source.addEventListener(name, function (event) {
        since = event.lastEventId || since;
        if (name === "shelf") {
          saved(event);
        } else if (name === "again" && !leaving) {
          show("More was saved meanwhile than can be told here.", location.href);
        }
      });
    });
    source.onerror = function () {
      if (source && source.readyState === EventSource.CLOSED) {
        later = setTimeout(listen, 30000);
      }
    };
  }

  function close() {
    clearTimeout(later);
    if (source) {
      source.close();
      source = null;
    }
  }

  /* A browser keeps six lines to one server: a page that nobody looks at lets its line go. */
  document.addEventListener("visibilitychange", function () {
    if (document.hidden) {
      close();
    } else {
      listen();
    }
  });
  document.addEventListener("submit", function (event) {
    leaving = leaving || !event.defaultPrevented;
  });
  window.addEventListener("pageshow", function () {
    leaving = false;
  });
  window.addEventListener("pagehide", close);
  if (!document.hidden) {
    listen();
  }
})();
