// What stands under a question waits until somebody asks for it: folded under a button for a reader, on the wall of a class until it has said it.
// Read at the top of the lesson, before its cells have come: each is looked at as soon as it is whole, so that no answer stands open meanwhile.
// On paper it stands apart (on_paper.js); where no script runs, all stands open.
(function () {
  // A question closes its paragraph, with or without a bidding to say it. Its answer ends at the next heading, question or task.
  const ASKS = /\?["”)]*(?:\s[^?]*\b(?:[Ss]ay|[Dd]ecide|[Gg]uess|[Nn]ame|before you)\b[^.?]*\.)?$/;
  // A bidding before a table or drawing that is made to be an answer: then that waits for a reader too.
  const BIDS = /\bCover\b|(?:\b(?:[Ss]ay|[Gg]uess|[Dd]ecide|[Nn]ame)\b|[Tt]hen (?:look|read|open)|before you)[^.?]*[.:]$/;
  const TASK = /^(?:Try it|Now you|Now look|Worked example|Point at|Cover|Here (?:is|are))\b/;
  const NO_RIDDLE = new Set(["the-scene", "what-it-may-not-do"]); // a story, and what nobody has to guess
  function said(part) { return part.textContent.trim(); }
  function asks(part) { return part.matches("p") && ASKS.test(said(part)); }
  function ends(part) { return !said(part) || !part.matches("p, ul, ol, table, blockquote") || TASK.test(said(part)) || asks(part); }
  function cover(part) {
    const answer = document.createElement("div");
    answer.className = "answer asked"; part.before(answer); answer.append(part);
    return answer;
  }

  // open: a question waits for its answer; bid: so does a bidding; told: an answer has just been given
  let place = "", open = false, bid = false, told = false;
  function read(cell) {
    if (!cell.matches(".text")) {
      const answers = cell.querySelectorAll("div.answer");
      if (open || bid || told) { for (const answer of answers) { answer.classList.add("asked"); } }
      const over = cell.querySelector(".live-part, .answer, .when-said");
      open = open && !over; bid = bid && !over;
      told = told && !cell.querySelector(".live-part");
      for (const table of told ? cell.querySelectorAll(".shown > table") : []) { cover(table); } // the answer goes on in it
    } else { readText(cell); }
    for (const answer of cell.querySelectorAll(".answer")) { buttons(answer); }
  }
  function readText(cell) {
    let answer = null;
    told = bid = false;
    for (const part of Array.from(cell.children)) {
      if (part.matches("details")) { // a trainer's note is no part of what is asked and told
        if (answer) { open = false; told = true; answer = null; }
        continue;
      }
      for (const named of part.matches("a[id]") ? [part] : part.querySelectorAll("a[id]")) { place = named.id; }
      bid = !NO_RIDDLE.has(place) && BIDS.test(said(part));
      if (ends(part)) { open = asks(part) && !NO_RIDDLE.has(place); answer = null; continue; }
      if (answer) { answer.append(part); } else if (open) { answer = cover(part); }
    }
    if (answer) { open = false; told = true; }
  }

  // -- shown when pressed, until somebody hides it again; what is worked in steps, step by step ----------------------------
  const WORDS = { reader: "Said it? Read what we say.", wall: "The answer: press here when the class has said it" };
  function button(kind, text) {
    const made = document.createElement("button");
    made.type = "button"; made.className = `${kind} no-print`; made.textContent = text;
    return made;
  }
  function buttons(answer) {
    const press = button("cover", ""), whole = button("second whole", "All steps at once"), again = button("second again", "Hide this answer again");
    const steps = /^Step$/.test(said(answer.querySelector("th") || answer)) ? Array.from(answer.querySelectorAll("tbody tr")) : [];
    const all = steps.length || 1;
    let shown = 0;
    function put(count) {
      shown = count;
      answer.classList.toggle("asked-for", shown > 0);
      answer.classList.toggle("in-steps", shown > 0 && shown < all);
      steps.forEach(function (row, at) { row.classList.toggle("waits", at >= shown); });
      press.setAttribute("aria-expanded", String(shown > 0));
      press.textContent = !shown ? "" : shown < all ? `Next step: ${shown + 1} of ${all}` : "Fold it again";
      for (const [view, words] of shown ? [] : Object.entries(WORDS)) {
        const seen = document.createElement("span");
        seen.className = `for-${view}`; seen.textContent = words; press.append(seen);
      }
    }
    function free() { (press.offsetParent ? press : again).focus({ preventScroll: true }); } // the one that is still there keeps the focus
    press.addEventListener("click", function () { put(shown < all ? shown + 1 : 0); free(); });
    whole.addEventListener("click", function () { put(all); free(); });
    again.addEventListener("click", function () { put(0); free(); });
    answer.removeAttribute("tabindex");
    if (steps.length) { answer.append(press, whole, again); } else { answer.prepend(press); answer.append(again); }
    put(0);
  }

  // -- cell by cell, as they come --------------------------------------------------------------------------------------
  const main = document.querySelector("main");
  let last = null;
  function look(loaded) {
    for (;;) {
      const next = last ? last.nextElementSibling : main.firstElementChild;
      if (!next || !(loaded || next.nextSibling)) { return; } // it may not be whole yet
      last = next;
      if (next.matches(".cell")) { read(next); }
    }
  }
  const coming = new MutationObserver(function () { look(false); });
  coming.observe(main, { childList: true });
  document.addEventListener("DOMContentLoaded", function () { coming.disconnect(); look(true); });
})();
