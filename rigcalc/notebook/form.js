// The one form a person answers in. Two hosts: a widget in lessons, a plain page in the room.
// It needs of its model only get, set, save_changes (or save) and on("change:NAME", ...).
// Everything shown is put in as text, never as HTML; drawings come in as images with their words.
// What one answers with stands in form_controls.js, which is read in front of this file.

const CSS = `
.rc-form { font:1rem/1.5 "Source Sans 3","Segoe UI","DejaVu Sans",system-ui,sans-serif; color:#1d2328; max-width:46rem; }
.rc-form fieldset { border:1px solid #c9c2b4; border-radius:6px; margin:.6rem 0; padding:.5rem 1rem 1rem; background:#fff; min-width:0; }
.rc-form legend { font-weight:700; padding:0 .4rem; color:#17405c; }
.rc-form p { margin:.4rem 0; max-width:44rem; white-space:pre-line; }
.rc-form .rc-chart { border-left:6px solid #17405c; background:#efe9dc; padding:.4rem .8rem; }
.rc-form .rc-quiet { color:#56606a; font-size:.95rem; }
.rc-form .rc-saved.rc-warn { color:#1d2328; font-size:1rem; font-weight:700; padding:.45rem .8rem; border-left:6px solid #9a3b12; background:#faf8f3; }
.rc-form figure { margin:.6rem 0; } .rc-form figure img { max-width:100%; height:auto; display:block; }
.rc-form figure.rc-large { overflow-x:auto; } .rc-form figure.rc-large img { max-width:none; }
.rc-form .rc-option { display:flex; gap:.6rem; align-items:baseline; min-height:2.6rem; padding:.4rem .5rem; font-weight:400; margin:0; border-radius:5px; cursor:pointer; }
.rc-form .rc-option:hover { background:#f5f1e8; }
.rc-form .rc-option input { width:1.15rem; height:1.15rem; flex:none; transform:translateY(.15rem); accent-color:#17405c; margin:0; }
.rc-form .rc-places { display:flex; flex-wrap:wrap; }
.rc-form .rc-letter { font-weight:700; min-width:1.2rem; color:#17405c; }
.rc-form .rc-label { display:block; font-weight:600; margin:.6rem 0 .15rem; }
.rc-form input[type=text] { font:inherit; padding:.4rem .55rem; border:2px solid #56606a; border-radius:5px; background:#fff; color:#1d2328; min-height:2.6rem; width:16rem; max-width:100%; box-sizing:border-box; }
.rc-form select { font:inherit; padding:.4rem .55rem; border:2px solid #56606a; border-radius:5px; background:#fff; color:#1d2328; min-height:2.6rem; max-width:100%; box-sizing:border-box; }
.rc-form ul.rc-side { list-style:none; margin:.5rem 0; padding:.4rem .8rem; background:#faf8f3; border-left:6px solid #c9c2b4; } .rc-form ul.rc-side li { margin:.2rem 0; }
.rc-form details { margin:.3rem 0; } .rc-form summary { cursor:pointer; color:#17405c; min-height:1.6rem; }
.rc-form ol.rc-order { list-style:none; margin:.5rem 0; padding:0; width:fit-content; min-width:min(100%,26rem); max-width:44rem; }
.rc-form ol.rc-order li { display:flex; align-items:center; gap:.6rem; border:1px solid #c9c2b4; border-radius:5px; padding:.25rem .6rem; margin:.25rem 0; background:#faf8f3; }
.rc-form .rc-place { color:#56606a; min-width:3.2rem; } .rc-form .rc-grow { flex:1; }
.rc-form button { font:inherit; font-weight:600; min-height:2.6rem; padding:.35rem 1rem; border-radius:6px; border:2px solid #17405c; background:#17405c; color:#fff; cursor:pointer; }
.rc-form button.rc-second { background:#fff; color:#17405c; } .rc-form button[hidden] { display:none; }
.rc-form button:disabled, .rc-form button[aria-disabled=true] { opacity:.5; cursor:not-allowed; }
.rc-form .rc-row { display:flex; gap:.6rem; flex-wrap:wrap; margin:.6rem 0 0; align-items:center; }
.rc-form .rc-said { padding:.45rem .8rem; border-left:6px solid #17405c; background:#faf8f3; margin:.6rem 0 0; }
.rc-form .rc-said:empty { display:none; }
.rc-form .rc-said.rc-no { border-left-color:#9a3b12; } .rc-form .rc-said.rc-ok { border-left-color:#0b5d4e; }
.rc-form a { color:#17405c; } .rc-form .rc-on-paper { display:none; }
.rc-form :focus-visible { outline:3px solid #0b62c4; outline-offset:2px; }
@media print { .rc-form .rc-on-paper { display:block; } .rc-form figure.rc-large img { max-width:100%; } .rc-form button, .rc-form .rc-said, .rc-form .rc-after, .rc-form .rc-saved { display:none; }
  .rc-form fieldset { break-inside:avoid; border:0; border-left:3px solid #1d2328; border-radius:0; background:none; padding:.2rem 0 .4rem .8rem; }
  .rc-form legend { padding:0; } .rc-form .rc-option { min-height:0; padding:.15rem 0; } .rc-form .rc-option input { accent-color:#1d2328; }
  .rc-form input[type=text], .rc-form select { border:0; border-bottom:1.5px solid #1d2328; border-radius:0; background:none; color:transparent; appearance:none; width:9cm; }
  .rc-form ol.rc-order li { background:none; border:0; padding:.1rem 0; } .rc-form .rc-place { display:none; }
  .rc-form ol.rc-order li::before { content:"place ______"; } .rc-form ul.rc-side, .rc-form .rc-chart { background:none; } }
`;

const PATIENCE_MS = 6000;
const STOPPED = "Not marked: the controls of this page have stopped. Reload the page; what was marked under your name is kept.";
const SILENT = "No answer from the page's calculator: press again, or reload the page; what was marked under your name is kept.";
const CLOSED = "Not marked: the workbook does not answer. Look whether it is still open in its window; then press again. What was marked under your name is kept.";

let styled = false;
function style(root) {
  if (root instanceof Document && styled) return;
  try {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(CSS);
    root.adoptedStyleSheets = [...root.adoptedStyleSheets, sheet];
    if (root instanceof Document) styled = true;
  } catch (_) {
    const tag = document.createElement("style");
    tag.textContent = CSS;
    (root.head || root).appendChild(tag);
  }
}

let forms = 0;

function render({ model, el }) {
  const root = el.getRootNode();
  style(root.adoptedStyleSheets ? root : document);
  const id = `rc-${++forms}-${Math.floor(performance.now())}`;
  const get = (name) => model.get(name);
  const save = () => (model.save_changes || model.save).call(model);
  const put = (values) => {
    for (const [name, value] of Object.entries(values)) model.set(name, value);
    if (exercise()) wait(values);
    save();
  };
  const exercise = () => get("mode") !== "sitting";
  let missing = null, silent = false, patience = null;  // what is waited for, whether it was waited for too long
  let warned = false;   // what is half done, or an order nobody moved, is confirmed by the second press only
  let tries = 0;        // told to the screen reader by a change of text, even when the words are the same

  const shell = make("div", "rc-form");
  // A page that listens for single keys (a notebook does) must not hear what is typed here.
  for (const heard of ["keydown", "keyup", "keypress"]) shell.addEventListener(heard, (event) => event.stopPropagation());
  el.appendChild(shell);

  let parts = {};
  let control = null;
  const host = { id, get, put, model, answered: (typed, now) => answered(typed, now), confirm: () => confirm(), entered: () => entered(), say: (text) => say(text) };

  function draw() {
    const question = get("question") || {};
    shell.textContent = "";
    parts = {};
    const set = make("fieldset");
    set.appendChild(make("legend", "", get("title") || `Question ${question.slot ?? ""}`));
    set.appendChild(make("p", "rc-text", question.text));
    if (question.chart) set.appendChild(make("p", "rc-chart", question.chart));
    if (question.figure) set.appendChild(figure(question.figure));
    if (parts.larger) set.appendChild(parts.larger);
    const how = [question.instruction];
    if (question.kind === "number") how.push(units(question));
    const told = make("p", "rc-quiet", how.filter(Boolean).join(" "));
    told.id = `${id}-how`;
    set.appendChild(told);
    if (control && control.close) control.close();
    control = CONTROLS[question.kind] ? CONTROLS[question.kind](host, question, set) : null;
    const row = make("div", "rc-row");
    parts.confirm = make("button", "rc-confirm", "Confirm");
    parts.confirm.type = "button";
    parts.confirm.addEventListener("click", confirm);
    row.appendChild(parts.confirm);
    set.appendChild(row);
    parts.said = make("p", "rc-said");
    parts.said.setAttribute("role", "status");
    set.appendChild(parts.said);
    parts.saved = make("p", "rc-quiet rc-saved");
    parts.saved.setAttribute("role", "status");
    set.appendChild(parts.saved);
    parts.after = make("div", "rc-after");
    set.appendChild(parts.after);
    shell.appendChild(set);
    show();
  }

  function figure(drawn) {
    const frame = make("figure");
    const image = make("img");
    image.alt = drawn.alt;
    image.src = `data:image/svg+xml;base64,${btoa(unescape(encodeURIComponent(drawn.svg)))}`;
    frame.appendChild(image);
    const wide = /<svg[^>]*? width="([0-9.]+)"/.exec(drawn.svg);
    if (wide) sized(frame, image, Number(wide[1]));
    if (drawn.spoken) {
      const told = make("details");
      told.append(make("summary", "", "The drawing in words"), make("p", "", drawn.spoken));
      frame.appendChild(told);
    }
    return frame;
  }

  // The words of a drawing grow with the page's own; where there is no room for that, a button draws it larger.
  function sized(frame, image, wide) {
    image.style.width = `${wide / 16}rem`;
    const more = make("button", "rc-second", "Larger drawing");
    more.type = "button";
    more.hidden = true;
    more.addEventListener("click", () => {
      const large = frame.classList.toggle("rc-large");
      more.textContent = large ? "Whole drawing" : "Larger drawing";
      for (const [name, value] of [["tabindex", "0"], ["aria-label", "Drawing: the arrow keys move it sideways"]]) {
        if (large) frame.setAttribute(name, value);
        else frame.removeAttribute(name);
      }
    });
    parts.larger = more;
    const seen = new ResizeObserver(() => {
      if (!frame.isConnected) return seen.disconnect();
      const wanted = wide / 16 * parseFloat(getComputedStyle(document.documentElement).fontSize);
      more.hidden = !frame.classList.contains("rc-large") && image.clientWidth >= wanted - 2;
    });
    seen.observe(image);
  }

  // What the other side owes after a put: a reading, a marking, or what was asked for after a try.
  function wait(values) {
    const question = get("question"), field = values.act && { hint: "hint", work: "working" }[values.act.what];
    missing = values.tries ? () => !get("feedback") : values.ask_reading ? () => !(get("reading") || {}).shown : field ? () => !get(field)
      : () => get("question") === question && Boolean(get("feedback") || get("hint") || get("working"));
    const told = silent;
    silent = false;
    clearTimeout(patience);
    if (told) show();
    patience = setTimeout(() => {
      silent = Boolean(missing && missing());
      if (silent) show();
    }, PATIENCE_MS);
  }

  function settle() {
    missing = null;
    silent = false;
    clearTimeout(patience);
  }

  function answered(typed, now = true) {
    warned = false;
    settle();
    model.set("typed", typed);
    if (get("confirmed")) model.set("confirmed", false);
    if (get("feedback")) model.set("feedback", null);
    if (now) save();
    show();
  }

  // Enter came before the figure was read: an exercise is marked as soon as it is, what is handed in is looked at once more.
  function entered() {
    if (exercise()) confirm();
    else say("Press Enter again to confirm.");
  }

  // Whether a press counts. Once an exercise is marked the button is not truly disabled, so that it keeps the focus.
  function open() {
    const confirmed = get("confirmed");
    return ready() && !(confirmed && (!exercise() || Boolean(get("feedback"))));
  }

  function confirm() {
    if (unread()) {
      control.ask();
      return;
    }
    if (!open()) return;
    const doubt = control.doubt ? control.doubt() : "";
    if (doubt && !warned) {
      warned = true;
      say(doubt);
      return;
    }
    warned = false;
    tries += 1;
    try {
      put({ typed: control.typed(), confirmed: true, tries });
    } finally {  // a page that has lost its other side cannot send
      show();
    }
  }

  // The page around an exercise has said that nobody answers any more.
  function stopped() {
    return exercise() && document.documentElement.dataset.live === "stopped";
  }

  // The page around has said that the whole workbook is silent: to load the page again would only lose it.
  function closed() {
    return document.documentElement.dataset.live === "unanswered";
  }

  // What was typed could not be read because nobody answers: the next press asks again.
  function unread() {
    return silent && Boolean(control && control.ask) && !ready();
  }

  function ready() {
    return Boolean(control) && control.ready();
  }

  function say(text, kind = "") {
    parts.said.className = `rc-said ${kind}`;
    parts.said.textContent = text;
  }

  function show() {
    if (!parts.confirm) return;
    const feedback = get("feedback"), confirmed = get("confirmed");
    if (missing && !missing()) settle();
    if (control && control.show) control.show();
    parts.confirm.disabled = stopped() || !(ready() || unread()) || (confirmed && !exercise());
    parts.confirm.setAttribute("aria-disabled", String(stopped() || !(open() || unread())));
    const waits = get("waits"), unsaved = get("unsaved");  // a page that saves says what has not reached the disk
    parts.confirm.textContent = !confirmed || exercise() || (waits && !unsaved) ? "Confirm" : waits ? "Waits for the room" : "Confirmed";
    parts.saved.className = `rc-quiet rc-saved${unsaved ? " rc-warn" : ""}`;
    parts.saved.textContent = exercise() && !feedback ? "" : get("saved") || "";
    if (stopped() && !feedback && (confirmed || ready())) say(STOPPED, "rc-no");
    else if (silent) say(closed() ? CLOSED : SILENT, "rc-no");
    else if (feedback && exercise()) {
      say(feedback.feedback, feedback.right ? "rc-ok" : "rc-no");
      if (!feedback.right) where(feedback);
    } else if (confirmed && exercise()) say("Marking ...");
    else if (!warned && (!(control && control.keeps) || confirmed)) say("");
    after(feedback);
  }

  // What stands on this page needs no lesson's number, and what stands further down has not been read yet.
  function where(feedback) {
    if (!feedback.where) return;
    const slug = (feedback.section || "").split("#")[1];
    const here = slug && document.getElementById(slug);
    const ahead = here && here.getBoundingClientRect().top > shell.getBoundingClientRect().bottom;
    parts.said.append(ahead ? " You will read why further down: " : " Read again: ");
    if (here || feedback.page) {
      const link = make("a", "", here ? feedback.where.replace(/^lesson \d+, /, "") : feedback.where);
      link.href = here ? `#${slug}` : feedback.page;
      parts.said.append(link, ".");
    } else parts.said.append(`${feedback.where}.`);
  }

  // After a first try: a hint, the working with the numbers on the page, and another question like this.
  function after(feedback) {
    const kept = document.activeElement && parts.after.contains(document.activeElement) ? document.activeElement.dataset.act : null;
    parts.after.textContent = "";
    if (!exercise() || !(feedback || get("hint") || get("working"))) return;
    const row = make("div", "rc-row");
    for (const [act, word, field] of [["hint", "Hint", "hint"], ["work", "Work it through", "working"], ["fresh", "Another like this", null]]) {
      if (act === "hint" && feedback && feedback.right) continue;
      const button = make("button", "rc-second", word);
      button.type = "button";
      button.dataset.act = act;
      button.disabled = Boolean(field && get(field));
      button.addEventListener("click", () => put({ act: { what: act, turn: ((get("act") || {}).turn || 0) + 1 } }));
      row.appendChild(button);
    }
    for (const [field, word] of [["hint", "Hint"], ["working", "Worked through"]]) {
      if (!get(field)) continue;
      const told = make("p", "rc-said");
      told.setAttribute("role", "status");
      told.append(make("strong", "", `${word}: `), String(get(field)));
      parts.after.appendChild(told);
    }
    parts.after.appendChild(row);
    const again = kept && parts.after.querySelector(`[data-act="${kept}"]:not(:disabled)`);
    if (again) again.focus();
  }

  const listeners = [["change:question", () => {
    const had = shell.contains(document.activeElement);
    warned = false;
    draw();
    if (had) (shell.querySelector("input, select, ol button:not(:disabled)") || parts.confirm).focus();
  }]];
  for (const name of ["typed", "reading", "feedback", "saved", "confirmed", "waits", "unsaved", "hint", "working", "mode"])
    listeners.push([`change:${name}`, () => {
      if (name === "typed" && control) control.refresh();
      show();
    }]);
  for (const [name, heard] of listeners) model.on(name, heard);
  const around = new MutationObserver(() => { if (stopped() || silent) show(); });
  around.observe(document.documentElement, { attributes: true, attributeFilter: ["data-live"] });
  draw();
  if (control && control.ask && !get("reading")) control.ask();
  return () => { settle(); around.disconnect(); if (control && control.close) control.close(); for (const [name, heard] of listeners) if (model.off) model.off(name, heard); };
}

export { render };
export default { render };
