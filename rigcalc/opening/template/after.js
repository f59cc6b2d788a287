// Says in words whether the live parts of the page wake up, run, or have stopped. Text and figures need none of this.
(function () {
  const root = document.documentElement;
  const strip = document.getElementById("live-state");
  const kernel = JSON.parse(document.getElementById("jupyter-config-data").textContent).kernelId;
  const parts = Array.from(document.querySelectorAll(".live-part"));
  const startedAt = Date.now();
  const PATIENCE_MS = 40000, LOOK_MS = 5000, SETTLE_MS = 2000;
  let unanswered = 0;

  function say(state, sentence, reload) {
    root.dataset.live = state;
    strip.textContent = sentence;
    if (reload) {
      const button = document.createElement("button");
      button.type = "button"; button.textContent = "Reload the page";
      button.addEventListener("click", function () { sessionStorage.setItem("stood", JSON.stringify([location.pathname, cells().findLastIndex(begun)])); location.reload(); });
      strip.append(" ", button);
    }
  }

  function awake(part) { return !part.querySelector("script") && part.querySelector(".lm-Widget *") !== null
    && !part.querySelector(".jupyter-error-widget"); }

  function wake() {
    if (root.dataset.live === "stopped") { return; }
    const waiting = parts.filter(function (part) { return !awake(part); }).length;
    if (waiting === 0) { say("alive", ""); nameSliders(); setTimeout(function () { growing.disconnect(); }, SETTLE_MS); return; }
    if (Date.now() - startedAt > PATIENCE_MS) {
      say("stopped", "Some controls of this page did not start. Reload the page; text and figures can be read without them.", true);
      return;
    }
    setTimeout(wake, 150);
  }

  // The front end ties no label to a slider's handle: its name and its value in words are put there.
  function nameSliders() {
    for (const slider of document.querySelectorAll(".widget-hslider")) {
      const handle = slider.querySelector(".noUi-handle"), label = slider.querySelector(".widget-label");
      const readout = slider.querySelector(".widget-readout");
      if (!handle || !label) { continue; }
      handle.setAttribute("aria-label", label.textContent);
      const value = function () {
        if (readout && handle.getAttribute("aria-valuetext") !== readout.textContent) {
          handle.setAttribute("aria-valuetext", readout.textContent);
        }
      };
      new MutationObserver(value).observe(slider, { subtree: true, childList: true, characterData: true,
        attributes: true, attributeFilter: ["aria-valuetext"] });
      value();
    }
  }

  // Controls push the text down while they appear: stay at the place that was asked for, or where the page was loaded again, until a hand moves the page.
  function cells() { return Array.from(document.querySelectorAll("main .cell")); }
  function begun(cell) { return cell.getBoundingClientRect().top < window.innerHeight / 3; }
  const [page, at] = JSON.parse(sessionStorage.getItem("stood") || "[]"), stood = page === location.pathname ? cells()[at] : null;
  sessionStorage.removeItem("stood");
  if (stood) { history.scrollRestoration = "manual"; }
  const growing = new ResizeObserver(function () {
    const target = stood || location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (target) { target.scrollIntoView(); }
  });
  growing.observe(document.querySelector("main"));
  for (const moved of ["wheel", "touchstart", "pointerdown", "keydown"]) {
    addEventListener(moved, function () { growing.disconnect(); }, { once: true, passive: true, capture: true });
  }

  async function look() {
    try {
      const answer = await fetch("/alive/" + kernel, { cache: "no-store", redirect: "error" });
      unanswered = 0;
      if (answer.ok && !(await answer.json()).alive) {
        say("stopped", "The controls of this page have stopped. Reload the page to start them again; answers given on this page begin anew, and what is kept under your name stays kept.", true);
        return;
      }
      if (!answer.ok) { throw new Error("not answered"); }
      if (root.dataset.live === "unanswered") { say("alive", ""); }
    } catch (trouble) {
      unanswered += 1;
      if (unanswered > 1) {
        say("unanswered", "The workbook does not answer. Look whether it is still open in its window; if not, open it again there", false);
      }
    }
    setTimeout(look, LOOK_MS);
  }

  document.getElementById("print").addEventListener("click", function () { window.print(); });
  // A sheet for the bench prints by itself: all that stands beside it is left out while it is printed.
  const asked = { "practice-sheet": ".one-page.practice", "recap": ".one-page.recap" }[new URLSearchParams(location.search).get("print")];
  function alone(sheet) {
    for (let part = sheet; part && part !== document.body; part = part.parentElement) {
      for (const beside of part.parentElement.children) { if (beside !== part) { beside.classList.add("not-printed"); } }
    }
  }
  function withTheRest() {
    for (const part of document.querySelectorAll(".not-printed")) { part.classList.remove("not-printed"); }
  }
  // What the page says of a trainer's own copy goes along with a sheet that is printed by itself.
  const copied = document.querySelector(".working-copy");
  for (const sheet of copied ? document.querySelectorAll(".one-page") : []) {
    const said = document.createElement("strong");
    said.textContent = copied.textContent.split(",")[0] + ". ";
    (sheet.querySelector(".foot") || sheet).prepend(said);
  }
  for (const sheet of document.querySelectorAll(".one-page")) {
    const button = document.createElement("button");
    button.type = "button"; button.className = "second no-print print-sheet"; button.textContent = "Print this sheet";
    button.addEventListener("click", function () {
      withTheRest(); alone(sheet);
      window.addEventListener("afterprint", withTheRest, { once: true });
      window.print();
    });
    sheet.before(button);
  }
  const sheetAsked = asked && document.querySelector(asked);
  if (sheetAsked) {
    alone(sheetAsked); sheetAsked.scrollIntoView();
    window.addEventListener("afterprint", withTheRest, { once: true });
    window.addEventListener("load", function () { window.print(); }, { once: true });
  }

  document.addEventListener("visibilitychange", function () { if (!document.hidden && root.dataset.live === "alive") { unanswered = 0; } });
  wake();
  setTimeout(look, LOOK_MS);
})();
