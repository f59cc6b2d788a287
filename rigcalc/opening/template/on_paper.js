// On paper an answer that waits stands apart from its question: all of them under one heading before the recap, each with its number.
// What waits is what answers.js covers for a reader and what is folded until it is said; where no script runs, paper shows it in its place.
(function () {
  const WAITS = ".answer.asked, details.when-said";
  let back = [];

  function beside(before, after) { // nothing to read or to look at lies between the two
    const between = document.createRange();
    between.setStartAfter(before); between.setEndBefore(after);
    const part = between.cloneContents();
    return !part.textContent.trim() && !part.querySelector("img, svg, .live-part");
  }
  function line(kind, words) {
    const made = document.createElement(kind);
    made.textContent = words;
    return made;
  }
  function gather() {
    if (back.length || document.querySelector(".not-printed, html.notes-alone")) { return; }
    const recap = document.getElementById("recap"), end = recap ? recap.closest(".cell") : document.querySelector("section.cautions");
    const answers = document.createElement("section");
    answers.className = "cell printed-answers"; answers.append(line("h2", "Answers"));
    let number = 0, heading = "", place = null;
    for (const part of document.querySelectorAll(`main h2, main h3, ${WAITS}`)) {
      if (part.matches("h2, h3")) { if (!part.closest("figure, .one-page, details, .answer")) { heading = part.firstChild.textContent.trim(); } continue; }
      if (part.parentElement.closest(WAITS) || part.closest("details.trainer, .one-page")) { continue; }
      if (!place || !beside(place, part)) {
        number += 1;
        answers.append(line("h3", `${number}. ${heading}`));
      }
      place = line("p", `Say it or write it down. Ours: Answers, ${number}.`);
      place.className = "on-paper"; place.hidden = back.length > 0 && back[back.length - 1].number === number;
      back.push({ part, place, number, open: part.open });
      part.replaceWith(place); part.open = true; answers.append(part);
    }
    if (number) { end.before(answers); }
  }
  function scatter() {
    for (const { part, place, open } of back) { place.replaceWith(part); if (part.matches("details")) { part.open = open; } }
    back = [];
    for (const answers of document.querySelectorAll(".printed-answers")) { answers.remove(); }
  }
  addEventListener("beforeprint", gather);
  addEventListener("afterprint", scatter);
})();
