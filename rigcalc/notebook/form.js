// The one form a person answers in. Two hosts: a widget in lessons, a plain page in the room.
// It needs of its model only get, set, save_changes (or save) and on("change:NAME", ...).
// Everything shown is put in as text, never as HTML; drawings come in as images with their words.

const CSS = `
.rc-form { font:1rem/1.5 "Source Sans 3","Segoe UI","DejaVu Sans",system-ui,sans-serif; color:#1d2328; max-width:46rem; }
.rc-form fieldset { border:1px solid #c9c2b4; border-radius:6px; margin:.6rem 0; padding:.5rem 1rem 1rem; background:#fff; min-width:0; }
.rc-form legend { font-weight:700; padding:0 .4rem; color:#17405c; }
.rc-form p { margin:.4rem 0; max-width:44rem; white-space:pre-line; }
.rc-form .rc-chart { border-left:6px solid #17405c; background:#efe9dc; padding:.4rem .8rem; }
.rc-form .rc-quiet { color:#56606a; font-size:.95rem; }
.rc-form figure { margin:.6rem 0; } .rc-form figure img { max-width:100%; height:auto; }
.rc-form .rc-option { display:flex; gap:.6rem; align-items:baseline; min-height:2.6rem; padding:.4rem .5rem; font-weight:400; margin:0; border-radius:5px; cursor:pointer; }
.rc-form .rc-option:hover { background:#f5f1e8; }
.rc-form .rc-option input { width:1.15rem; height:1.15rem; flex:none; transform:translateY(.15rem); accent-color:#17405c; margin:0; }
.rc-form .rc-letter { font-weight:700; min-width:1.2rem; color:#17405c; }
.rc-form .rc-label { display:block; font-weight:600; margin:.6rem 0 .15rem; }
.rc-form input[type=text] { font:inherit; padding:.4rem .55rem; border:2px solid #56606a; border-radius:5px; background:#fff; color:#1d2328; min-height:2.6rem; width:16rem; max-width:100%; box-sizing:border-box; }
.rc-form ol.rc-order { list-style:none; margin:.5rem 0; padding:0; max-width:30rem; }
.rc-form ol.rc-order li { display:flex; align-items:center; gap:.6rem; border:1px solid #c9c2b4; border-radius:5px; padding:.25rem .6rem; margin:.25rem 0; background:#faf8f3; }
.rc-form .rc-place { color:#56606a; min-width:3.2rem; } .rc-form .rc-grow { flex:1; }
.rc-form button { font:inherit; font-weight:600; min-height:2.6rem; padding:.35rem 1rem; border-radius:6px; border:2px solid #17405c; background:#17405c; color:#fff; cursor:pointer; }
.rc-form button.rc-second { background:#fff; color:#17405c; }
.rc-form button:disabled { opacity:.5; cursor:not-allowed; }
.rc-form .rc-row { display:flex; gap:.6rem; flex-wrap:wrap; margin:.6rem 0 0; align-items:center; }
.rc-form .rc-said { padding:.45rem .8rem; border-left:6px solid #17405c; background:#faf8f3; margin:.6rem 0 0; }
.rc-form .rc-said:empty { display:none; }
.rc-form .rc-said.rc-no { border-left-color:#9a3b12; } .rc-form .rc-said.rc-ok { border-left-color:#0b5d4e; }
.rc-form a { color:#17405c; }
.rc-form :focus-visible { outline:3px solid #0b62c4; outline-offset:2px; }
@media print { .rc-form button { display:none; } .rc-form fieldset { break-inside:avoid; } }
`;

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

function make(tag, name, text) {
  const node = document.createElement(tag);
  if (name) node.className = name;
  if (text !== undefined && text !== null) node.textContent = String(text);
  return node;
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
    save();
  };
  const exercise = () => get("mode") !== "sitting";
  let waiting = null;   // the pause after the last key, before the reading is asked for
  let warned = false;   // an order nobody moved is confirmed by the second press only
  let tries = 0;        // told to the screen reader by a change of text, even when the words are the same

  const shell = make("div", "rc-form");
  // A page that listens for single keys (a notebook does) must not hear what is typed here.
  for (const heard of ["keydown", "keyup", "keypress"]) shell.addEventListener(heard, (event) => event.stopPropagation());
  el.appendChild(shell);

  let parts = {};

  function draw() {
    const question = get("question") || {};
    shell.textContent = "";
    parts = {};
    const set = make("fieldset");
    set.appendChild(make("legend", "", get("title") || `Question ${question.slot ?? ""}`));
    set.appendChild(make("p", "rc-text", question.text));
    if (question.chart) set.appendChild(make("p", "rc-chart", `Chart in force: ${question.chart}`));
    if (question.figure) set.appendChild(figure(question.figure));
    const how = [question.instruction];
    if (question.kind === "number") how.push(`Answer in ${question.accept.join(", ")}: ${question.tolerance}.`);
    if (question.refusal) how.push("Where no figure can be stated, type the word refuse.");
    const told = make("p", "rc-quiet", how.filter(Boolean).join(" "));
    told.id = `${id}-how`;
    set.appendChild(told);
    const control = { "one choice": choice, number, order }[question.kind];
    if (control) control(set, question);
    const row = make("div", "rc-row");
    parts.confirm = make("button", "", "Confirm");
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
    return frame;
  }

  function choice(set, question) {
    parts.radios = [];
    for (const option of question.options) {
      const label = make("label", "rc-option");
      const radio = make("input");
      radio.type = "radio";
      radio.name = `${id}-choice`;
      radio.value = option.letter;
      radio.setAttribute("aria-describedby", `${id}-how`);
      radio.checked = get("typed") === option.letter;
      radio.addEventListener("change", () => answered(option.letter));
      label.append(radio, make("span", "rc-letter", option.letter), make("span", "", option.text));
      set.appendChild(label);
      parts.radios.push(radio);
    }
  }

  function number(set, question) {
    const label = make("label", "rc-label", "Your answer, with its unit");
    const box = make("input", "rc-number");
    box.type = "text";
    box.id = `${id}-number`;
    box.autocomplete = "off";
    box.spellcheck = false;
    box.maxLength = 60;
    box.value = get("typed") || "";
    box.setAttribute("aria-describedby", `${id}-how ${id}-reading`);
    label.htmlFor = box.id;
    parts.box = box;
    box.addEventListener("input", () => {
      clearTimeout(waiting);
      if (get("reading")) model.set("reading", null);
      answered(box.value, false);
      waiting = setTimeout(ask, 300);
    });
    box.addEventListener("change", ask);
    box.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      if (read()) confirm(); else ask();
    });
    parts.reading = make("p", "rc-said rc-reading");
    parts.reading.id = `${id}-reading`;
    parts.reading.setAttribute("role", "status");
    parts.asked = make("div", "rc-row");
    set.append(label, box, parts.reading, parts.asked);
  }

  function ask() {
    clearTimeout(waiting);
    if (!parts.box || !parts.box.value.trim() || read()) return;
    put({ typed: parts.box.value, ask_reading: (get("ask_reading") || 0) + 1 });
  }

  // A reading counts only for the very text that stands in the box now.
  function read() {
    const reading = get("reading");
    if (!reading || !reading.ok || !parts.box) return null;
    const typed = reading.value && reading.value.typed;
    return typed === undefined || typed === parts.box.value.trim() ? reading : null;
  }

  function order(set, question) {
    parts.list = make("ol", "rc-order");
    parts.list.setAttribute("aria-describedby", `${id}-how`);
    set.appendChild(parts.list);
    list(question);
  }

  function rowNow(question) {
    const typed = get("typed");
    return Array.isArray(typed) && typed.length ? [...typed] : question.options.map((one) => one.letter);
  }

  function list(question, moved, way) {
    const row = rowNow(question);
    parts.list.textContent = "";
    row.forEach((letter, at) => {
      const option = question.options.find((one) => one.letter === letter) || { text: "" };
      const item = make("li");
      item.append(make("span", "rc-place", `${at + 1} of ${row.length}`), make("span", "rc-letter", letter),
        make("span", "rc-grow", option.text));
      for (const [word, step] of [["up", -1], ["down", 1]]) {
        const button = make("button", "rc-second", word);
        button.type = "button";
        button.setAttribute("aria-label", `Move ${option.text || letter} ${word}`);
        button.disabled = at + step < 0 || at + step >= row.length;
        button.addEventListener("click", () => {
          const now = rowNow(question);
          [now[at], now[at + step]] = [now[at + step], now[at]];
          answered(now);
          list(question, letter, word);
          say(`${option.text || letter} is now ${at + step + 1} of ${now.length}.`);
        });
        item.appendChild(button);
        if (letter === moved && word === way) parts.focus = button;
        if (letter === moved && word !== way) parts.spare = button;
      }
      parts.list.appendChild(item);
    });
    if (moved) (parts.focus.disabled ? parts.spare : parts.focus).focus();
  }

  function answered(typed, now = true) {
    warned = false;
    model.set("typed", typed);
    if (get("confirmed")) model.set("confirmed", false);
    if (get("feedback")) model.set("feedback", null);
    if (now) save();
    show();
  }

  function confirm() {
    const question = get("question");
    clearTimeout(waiting);
    if (!ready()) return;
    if (question.kind === "order" && !(get("typed") || []).length && !warned) {
      warned = true;
      say("You have moved nothing. If this is your order, press Confirm again.");
      return;
    }
    const typed = question.kind === "order" ? rowNow(question) : question.kind === "number" ? parts.box.value : get("typed");
    tries += 1;
    put({ typed, confirmed: true, tries });
    show();
  }

  function ready() {
    const question = get("question") || {};
    if (question.kind === "number") return Boolean(read());
    return question.kind === "order" || Boolean(get("typed"));
  }

  function say(text, kind = "") {
    parts.said.className = `rc-said ${kind}`;
    parts.said.textContent = text;
  }

  function show() {
    if (!parts.confirm) return;
    const question = get("question") || {}, feedback = get("feedback"), confirmed = get("confirmed");
    if (parts.radios) for (const radio of parts.radios) radio.checked = radio.value === get("typed");
    if (parts.reading) reading();
    parts.confirm.disabled = !ready() || (confirmed && (!exercise() || Boolean(feedback)));
    parts.confirm.textContent = confirmed && !exercise() ? "Confirmed" : "Confirm";
    parts.saved.textContent = exercise() ? "" : get("saved") || "";
    if (feedback && exercise()) {
      say(feedback.feedback, feedback.right ? "rc-ok" : "rc-no");
      if (!feedback.right) where(feedback);
    } else if (confirmed && exercise()) say("Marking ...");
    else if (question.kind !== "order" || confirmed) say("");
    after(feedback);
  }

  function where(feedback) {
    if (!feedback.where) return;
    const slug = (feedback.section || "").split("#")[1];
    parts.said.append(" Read again: ");
    if (slug && document.getElementById(slug)) {
      const link = make("a", "", feedback.where);
      link.href = `#${slug}`;
      parts.said.append(link, ".");
    } else parts.said.append(`${feedback.where}.`);
  }

  function reading() {
    const given = get("reading"), typed = parts.box.value.trim();
    const good = read();
    parts.asked.textContent = "";
    parts.reading.className = `rc-said rc-reading${given && !given.ok ? " rc-no" : ""}`;
    parts.reading.textContent = !typed ? "" : good ? `Read as ${good.shown}` : given && !given.ok ? given.shown : "";
    for (const meant of (!good && given && given.ask) || []) {
      const button = make("button", "rc-second", meant);
      button.type = "button";
      button.setAttribute("aria-label", `I mean ${meant}`);
      button.addEventListener("click", () => {
        parts.box.value = meant;
        model.set("reading", null);
        answered(meant, false);
        put({ typed: meant, ask_reading: (get("ask_reading") || 0) + 1 });
        parts.box.focus();
      });
      parts.asked.appendChild(button);
    }
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
    if (had) (shell.querySelector("input, ol button:not(:disabled)") || parts.confirm).focus();
  }]];
  for (const name of ["typed", "reading", "feedback", "saved", "confirmed", "hint", "working", "mode"])
    listeners.push([`change:${name}`, () => {
      if (name === "typed" && parts.list) list(get("question"), null);
      if (name === "typed" && parts.box && parts.box !== document.activeElement) parts.box.value = get("typed") || "";
      show();
    }]);
  for (const [name, heard] of listeners) model.on(name, heard);
  draw();
  if (parts.box && parts.box.value.trim() && !get("reading")) ask();
  return () => { clearTimeout(waiting); for (const [name, heard] of listeners) if (model.off) model.off(name, heard); };
}

export { render };
export default { render };
