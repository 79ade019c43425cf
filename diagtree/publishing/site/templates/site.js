(function () {
  "use strict";
  var root = document.documentElement;

  function one(selector, within) { return (within || document).querySelector(selector); }
  function all(selector, within) { return Array.prototype.slice.call((within || document).querySelectorAll(selector)); }
  function made(name, text, kind) {
    var element = document.createElement(name);
    if (text) element.textContent = text;
    if (kind) element.className = kind;
    return element;
  }

  // Dark and light.
  var button = one("#theme");
  var wanted = matchMedia("(prefers-color-scheme: dark)");
  function dark() { return root.dataset.theme ? root.dataset.theme === "dark" : wanted.matches; }
  function label() { button.textContent = dark() ? "Light" : "Dark"; }
  if (button) {
    button.hidden = false;
    label();
    wanted.addEventListener("change", label);
    button.addEventListener("click", function () {
      root.dataset.theme = dark() ? "light" : "dark";
      try { localStorage.setItem("diagtree-theme", root.dataset.theme); } catch (refused) { /* Lasts for this page. */ }
      label();
    });
  }

  // The drawing goes on paper; of the remedies those that are open do.
  var closed = [];
  addEventListener("beforeprint", function () {
    closed = all("details.drawing:not([open])");
    closed.forEach(function (part) { part.open = true; });
  });
  addEventListener("afterprint", function () { closed.forEach(function (part) { part.open = false; }); });

  // Search: the box on every page leads to the page that holds the index.
  var form = one("#find");
  var box = form && one("input", form);
  if (form) {
    form.hidden = false;
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var place = form.dataset.page + "#" + encodeURIComponent(box.value.trim());
      if (one("#index")) { location.hash = encodeURIComponent(box.value.trim()); show(box.value); } else location.href = place;
    });
    document.addEventListener("keydown", function (event) {
      var typing = /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
      if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
        event.preventDefault();
        box.focus();
        box.select();
      }
    });
  }

  function plain(text) { return text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase(); }
  function words(text) { return plain(text).split(/[^\p{L}\p{N}]+/u).filter(Boolean); }

  var list = null;
  function index() {
    if (list) return list;
    list = JSON.parse(one("#index").textContent).map(function (entry) {
      return { kind: entry[0], title: entry[1], place: entry[2], more: entry[3], inTitle: words(entry[1]), inMore: words(entry[0] + " " + entry[3]) };
    });
    return list;
  }

  // Each word asked for must begin a word of the entry; one in the title counts for more, a whole one most.
  function worth(entry, asked) {
    var sum = 0;
    for (var place = 0; place < asked.length; place += 1) {
      var word = asked[place], best = 0;
      entry.inTitle.forEach(function (known) { if (known === word) best = Math.max(best, 8); else if (known.startsWith(word)) best = Math.max(best, 5); });
      if (!best) entry.inMore.forEach(function (known) { if (known === word) best = Math.max(best, 2); else if (known.startsWith(word)) best = Math.max(best, 1); });
      if (!best) return 0;
      sum += best;
    }
    return sum + 1 / (1 + entry.inTitle.length);
  }

  function marked(text, asked) {
    var part = document.createDocumentFragment();
    text.split(/([^\p{L}\p{N}]+)/u).forEach(function (piece) {
      var found = asked.some(function (word) { return plain(piece).startsWith(word); });
      part.appendChild(found ? made("mark", piece) : document.createTextNode(piece));
    });
    return part;
  }

  function excerpt(text, asked) {
    var pieces = text.split(" "), at = 0;
    for (var place = 0; place < pieces.length; place += 1) {
      if (asked.some(function (word) { return words(pieces[place]).some(function (known) { return known.startsWith(word); }); })) { at = place; break; }
    }
    var from = Math.max(0, at - 8), to = Math.min(pieces.length, from + 24);
    return (from ? "… " : "") + pieces.slice(from, to).join(" ") + (to < pieces.length ? " …" : "");
  }

  function show(text) {
    var results = one("#results"), told = one("#told"), asked = words(text);
    results.textContent = "";
    if (!asked.length) { told.textContent = "Type a word or two."; return; }
    var found = index().map(function (entry, order) { return { entry: entry, worth: worth(entry, asked), order: order }; })
      .filter(function (hit) { return hit.worth > 0; })
      .sort(function (a, b) { return b.worth - a.worth || a.order - b.order; });
    told.textContent = found.length ? found.length + (found.length === 1 ? " place" : " places") + (found.length > 60 ? ", the first 60 are shown." : ".") : "Nothing found. Try fewer words, or the beginning of one.";
    found.slice(0, 60).forEach(function (hit) {
      var item = made("li"), link = made("a");
      link.href = hit.entry.place;
      link.appendChild(marked(hit.entry.title, asked));
      item.appendChild(made("span", hit.entry.kind, "kind"));
      item.appendChild(document.createTextNode(" "));
      item.appendChild(link);
      var more = made("p");
      more.appendChild(marked(excerpt(hit.entry.more, asked), asked));
      item.appendChild(more);
      results.appendChild(item);
    });
  }

  if (one("#index")) {
    var asked = "";
    try { asked = decodeURIComponent(location.hash.slice(1)); } catch (spoilt) { asked = ""; }
    box.value = asked;
    show(asked);
    box.addEventListener("input", function () {
      history.replaceState(null, "", "#" + encodeURIComponent(box.value.trim()));
      show(box.value);
    });
    if (!asked) box.focus();
  }

  // A tree: the way that is chosen is marked on the page and on the drawing.
  var drawing = one(".drawing");
  var trail = one("#trail");
  if (!drawing || !trail) return;
  var svg = one(".tree", drawing), pane = one(".scroll", drawing), size = one("#size");
  var way = [];
  if (!matchMedia("(min-width: 70rem)").matches) drawing.open = false;
  if (size) {
    size.hidden = false;
    size.addEventListener("click", function () {
      var fit = pane.classList.toggle("fit");
      size.textContent = fit ? "Readable size" : "All of it";
      if (!fit) follow();
    });
  }

  function at(anchor) { return one('[data-at="' + CSS.escape(anchor) + '"]', svg); }
  function current() { return way.length ? way[way.length - 1].to : one(".question").id; }

  function follow() {
    var part = at(current());
    if (!part || !drawing.open) return;
    var box = part.getBoundingClientRect(), frame = pane.getBoundingClientRect();
    pane.scrollTo({
      left: pane.scrollLeft + box.left - frame.left - (frame.width - box.width) / 2,
      top: pane.scrollTop + box.top - frame.top - (frame.height - box.height) / 3
    });
  }

  function tell() {
    all(".went, .here, .on").forEach(function (part) { part.classList.remove("went", "here", "on"); });
    all("[aria-current=step]").forEach(function (part) { part.removeAttribute("aria-current"); });
    way.forEach(function (step) {
      var link = document.getElementById(step.answer);
      link.classList.add("went");
      link.setAttribute("aria-current", "step");
      [at(step.answer), at(step.question)].forEach(function (part) { if (part) part.classList.add("went"); });
    });
    var here = at(current());
    if (here) here.classList.add("here");
    var section = document.getElementById(current());
    if (section && way.length) section.classList.add("on");
    trail.hidden = !way.length;
    if (way.length) {
      var heading = one("[data-heading]", section);
      one("p", trail).textContent = way.length + (way.length === 1 ? " answer" : " answers") + " given. Now: " + heading.dataset.heading + ".";
    }
    follow();
  }

  all(".answers a").forEach(function (link) {
    link.addEventListener("click", function () {
      var question = link.closest(".question").id;
      var before = way.findIndex(function (step) { return step.question === question; });
      if (before >= 0) way = way.slice(0, before);
      else if (way.length && current() !== question) way = [];
      if (link.id) way.push({ question: question, answer: link.id, to: link.hash.slice(1) });
      tell();
    });
  });

  function go(anchor) {
    var section = document.getElementById(anchor);
    location.hash = anchor;
    section.focus();
  }
  one("#back").addEventListener("click", function () {
    var step = way.pop();
    tell();
    if (step) go(step.question);
  });
  one("#again").addEventListener("click", function () {
    way = [];
    tell();
    go(current());
  });
  drawing.addEventListener("toggle", follow);

  // What is jumped to opens: a cause its mildest remedy, the drawing itself.
  function open() {
    var aim = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (aim === drawing && !drawing.open) {
      drawing.open = true;
      drawing.scrollIntoView();
    }
    if (aim && aim.matches(".cause")) all("details", aim).slice(0, 1).forEach(function (part) { part.open = true; });
  }
  addEventListener("hashchange", open);
  open();
  tell();
})();
