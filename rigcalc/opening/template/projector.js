// The projector view: text that grows with the screen, and a strip to go from part to part. How answers wait: answers.js.
// And the trainer's notes: open in the page (?notes=1) or alone with the headings they belong to (?notes=alone).
(function () {
  const root = document.documentElement;
  const button = document.getElementById("projector");
  const asked = new URLSearchParams(location.search);

  function isOn() { return root.classList.contains("projector"); }

  // -- a still drawing that a live figure repeats: once is enough on the wall, on paper as long as they are alike, and for a
  // reader where no words stand between the two (a twin: it was there until the live one woke up) ---
  const alike = new WeakMap(); // still drawing -> the live figure below it
  function label(drawing) { return drawing.alt || drawing.getAttribute("aria-label"); }
  window.addEventListener("beforeprint", function () {
    for (const still of document.querySelectorAll("figure.repeated")) {
      const live = Array.from(alike.get(still).querySelectorAll("svg[aria-label]"), label);
      still.classList.toggle("unlike", !live.includes(label(still.querySelector("img, svg"))));
    }
  });
  function repeated() {
    for (const live of document.querySelectorAll(".cell .rc-board svg[aria-label]")) {
      let cell = live.closest(".cell").previousElementSibling, next = true;
      while (cell && !cell.querySelector(".live-part, h2")) {
        for (const still of cell.querySelectorAll("figure.drawing")) {
          const words = still.querySelector("img, svg");
          if (words && !still.closest(".answer, .when-said") && label(words) === label(live)) { // an answer that is opened shows what it has
            still.classList.add("repeated"); alike.set(still, live.closest(".rc-board"));
            if (next) { still.classList.add("twin"); }
          }
        }
        next = next && !cell.matches(".text");
        cell = cell.previousElementSibling;
      }
    }
  }

  // -- from part to part ----------------------------------------------------------------------------------------
  const heads = Array.from(document.querySelectorAll("main .cell.text h2"));
  const strip = document.createElement("nav");
  strip.className = "parts no-print"; strip.setAttribute("aria-label", "Parts of this page");
  const before = document.createElement("button"), after = document.createElement("button"), list = document.createElement("select");
  before.type = after.type = "button"; before.className = after.className = "second";
  before.textContent = "Part before"; after.textContent = "Next part";
  list.setAttribute("aria-label", "Part of this page");
  heads.forEach(function (head, at) { list.add(new Option(words(head), String(at))); });
  strip.append(before, list, after);
  if (heads.length > 1) { document.querySelector("main").before(strip); }

  function words(head) {
    const copy = head.cloneNode(true);
    for (const anchor of copy.querySelectorAll(".anchor-link")) { anchor.remove(); }
    return copy.textContent.trim();
  }
  function reach() { return strip.offsetHeight + 24; }
  function here() {
    let at = 0;
    heads.forEach(function (head, number) { if (head.getBoundingClientRect().top <= reach()) { at = number; } });
    return at;
  }
  function go(at) {
    const head = heads[Math.max(0, Math.min(heads.length - 1, at))];
    window.scrollTo({ top: window.scrollY + head.getBoundingClientRect().top - strip.offsetHeight - 12 });
    list.value = String(heads.indexOf(head));
  }
  before.addEventListener("click", function () { go(here() - 1); });
  after.addEventListener("click", function () { go(heads[0].getBoundingClientRect().top > reach() ? 0 : here() + 1); });
  list.addEventListener("change", function () { go(Number(list.value)); });
  let waiting = false;
  window.addEventListener("scroll", function () {
    if (waiting || !isOn()) { return; }
    waiting = true;
    requestAnimationFrame(function () { waiting = false; if (document.activeElement !== list) { list.value = String(here()); } });
  }, { passive: true });

  // -- a live figure fits under the strip: its drawings are made lower, by half at most, or stand beside its words, whichever leaves them larger; then it stays so --
  const LEAST = 0.5, LEGIBLE = 0.9, WAYS = ["", "beside", "beside even"]; // words over the drawings, or to the right of them in a third or in under a half of the width
  const fitted = new WeakMap(); // figure -> its way, and the share of their height that its drawings keep
  function laid(board, drawings, way) {
    const frame = drawings[0].closest("figure").parentElement;
    for (const name of ["beside", "even"]) { board.classList.toggle(name, way.includes(name)); }
    for (const one of drawings) { one.style.maxHeight = ""; }
    const high = drawings.map(function (one) { return one.getBoundingClientRect().height; }), all = high.reduce(function (sum, one) { return sum + one; }, 0);
    const look = getComputedStyle(board), edge = parseFloat(look.paddingBottom) + parseFloat(look.borderBottomWidth) + 8;
    const top = board.getBoundingClientRect().top, room = window.innerHeight - strip.offsetHeight - 8;
    const reaches = function (part) { return part.getBoundingClientRect().bottom - top + edge; };
    const words = way ? reaches(board.querySelector(".rcb-said")) : 0;
    const tall = way ? reaches(frame) : board.offsetHeight - board.querySelector(".rcb-under").offsetHeight;
    board.classList.toggle("short", way !== "" && frame.offsetHeight <= board.querySelector(".rcb-controls").offsetHeight); // what stands under it moves up
    const share = Math.min(1, (all - (tall - room)) / all), kept = Math.max(LEAST, share);
    const size = Math.min(...drawings.map(function (one, at) { return high[at] * kept / (one.viewBox.baseVal.height || high[at]); }));
    return { way, high, share: kept, size, over: Math.max(0, words - room, tall - all * (1 - kept) - room) };
  }
  function best(board, drawings) { // what is said later lies over a drawing, not beside it: there it may begin a little smaller
    const found = WAYS.map(function (way) { return laid(board, drawings, way); });
    const legible = found.some(function (one) { return !one.over && one.size >= LEGIBLE; });
    const worth = function (one) { // where no way that fits can be read, the words may run over a little for a larger drawing
      return one.over && legible ? -one.over : one.size * (one.way && found[0].share < 1 ? 1.25 : 1) * Math.max(0.01, 1 - 3 * one.over / window.innerHeight);
    };
    const taken = found.reduce(function (most, one) { return worth(one) > worth(most) ? one : most; });
    return laid(board, drawings, taken.way);
  }
  function fit(board) {
    const drawings = Array.from(board.querySelectorAll("figure svg")).filter(function (one) { return !one.parentElement.closest("svg"); }); // a drawing within a drawing has its height already
    if (!isOn() || !drawings.length) { for (const one of drawings) { one.style.maxHeight = ""; } board.classList.remove("beside", "even", "short"); return; }
    const before = fitted.get(board);
    let found = before && laid(board, drawings, before.way);
    if (!found || found.over) { found = best(board, drawings); }
    const share = Math.min(before && before.way === found.way ? before.share : 1, found.share);
    fitted.set(board, { way: found.way, share });
    if (share < 1) { drawings.forEach(function (one, at) { one.style.maxHeight = `${Math.floor(found.high[at] * share)}px`; }); }
  }
  const moved = new MutationObserver(function (told) { for (const one of new Set(told.map(function (each) { return each.target; }))) { fit(one); } });
  function fitAll(again) {
    for (const board of document.querySelectorAll(".rc-board")) {
      if (again) { fitted.delete(board); }
      if (again || !fitted.has(board)) { fit(board); moved.observe(board, { attributes: true, attributeFilter: ["data-turn"] }); }
    }
  }
  window.addEventListener("resize", function () { fitAll(true); });

  // -- the view itself ----------------------------------------------------------------------------------------------
  function show() {
    button.setAttribute("aria-pressed", String(isOn()));
    button.textContent = isOn() ? "Smaller again" : "Larger, for the projector";
  }
  button.addEventListener("click", function () {
    const at = heads.length && here();
    root.classList.toggle("projector");
    sessionStorage.setItem("projector", isOn() ? "1" : "");
    show();
    fitAll(true);
    if (heads.length && window.scrollY > 0) { go(at); }
  });
  show();

  let looks = 40; // figures wake one after the other, all within seconds
  (function look() {
    repeated(); fitAll(false);
    if (looks > 0 && root.dataset.live !== "stopped") { looks -= 1; setTimeout(look, 500); }
  })();

  // -- the trainer's notes ------------------------------------------------------------------------------------------
  const notes = document.querySelectorAll("details.trainer");
  if (asked.has("notes")) { for (const folded of notes) { folded.open = true; } }
  if (asked.get("notes") === "alone" && notes.length) {
    root.classList.add("notes-alone"); root.classList.remove("projector");
    const KEPT = "details.trainer, .caution-list", kept = Array.from(document.querySelectorAll("main h1, main h2, main details.trainer"));
    kept.forEach(function (one, at) { // a part without notes is left out
      if (one.matches("h2") && !(kept[at + 1] && kept[at + 1].matches("details.trainer"))) { one.classList.add("beside-notes"); }
    });
    for (const cell of document.querySelectorAll("main .cell")) {
      if (!cell.querySelector(`h1, h2, ${KEPT}`)) { cell.classList.add("beside-notes"); continue; }
      for (const part of cell.children) {
        if (!part.matches(`h1, h2, ${KEPT}`) && !part.querySelector(KEPT)) { part.classList.add("beside-notes"); }
      }
    }
    show();
  }
})();
