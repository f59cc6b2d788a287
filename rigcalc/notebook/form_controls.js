// What a person answers with, one control for each kind of question. Read in front of form.js, as one text.
// A control gives: ready() may it be confirmed; typed() what is confirmed; refresh() after the answer changed from
// outside; and where wanted doubt() a sentence that asks for a second press, show() for what else changes,
// ask() to have the entry read now, close().

function make(tag, name, text) {
  const node = document.createElement(tag);
  if (name) node.className = name;
  if (text !== undefined && text !== null) node.textContent = String(text);
  return node;
}

function units(asked) {
  const accepted = (asked.accept || []).filter(Boolean).join(", ");
  return `${accepted ? `Answer in ${accepted}` : "A figure without a unit"}: ${asked.tolerance}.`
    + (asked.refusal ? " Where no figure can be stated, type the word refuse." : "");
}

// One choice and place: radios. Several choices: checkboxes.
function boxes(host, question, set, type) {
  const several = type === "checkbox";
  const chosen = () => (several ? host.get("typed") || [] : [host.get("typed")]);
  const row = make("div", question.kind === "place" ? "rc-places" : "");
  set.appendChild(row);
  const inputs = question.options.map((option) => {
    const label = make("label", "rc-option"), input = make("input");
    input.type = type;
    input.name = `${host.id}-choice`;
    input.value = option.letter;
    input.setAttribute("aria-describedby", `${host.id}-how`);
    input.addEventListener("change", () => host.answered(several
      ? inputs.filter((one) => one.checked).map((one) => one.value).sort() : option.letter));
    label.append(input, ...(question.kind === "place" ? [] : [make("span", "rc-letter", option.letter)]), make("span", "", option.text));
    row.appendChild(label);
    return input;
  });
  const refresh = () => { for (const input of inputs) input.checked = chosen().includes(input.value); };
  refresh();
  const ready = () => Boolean(several ? chosen().length : host.get("typed"));
  return { ready, typed: () => host.get("typed"), refresh };
}

// One box for a figure, with how it was read under it. `value` and `reading` say where its text and reading stand.
function figureBox(host, asked, set, { id, words, value, reading, changed, ask }) {
  const label = make("label", "rc-label", words), box = make("input", "rc-number");
  Object.assign(box, { type: "text", id, autocomplete: "off", spellcheck: false, maxLength: 60, value: value() });
  label.htmlFor = id;
  const said = make("p", "rc-said rc-reading"), row = make("div", "rc-row");
  said.id = `${id}-reading`;
  said.setAttribute("role", "status");
  box.setAttribute("aria-describedby", `${host.id}-how ${said.id}`);
  let entered = false;  // Enter came before the figure was read
  box.addEventListener("input", () => { entered = false; changed(box.value); });
  box.addEventListener("change", ask);
  box.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    if (read()) host.confirm();
    else {
      entered = Boolean(box.value.trim());
      ask();
    }
  });
  // A reading counts only for the very text that stands in the box now.
  function read() {
    const given = reading();
    if (!given || !given.ok) return null;
    const typed = given.value && given.value.typed;
    return typed === undefined || typed === box.value.trim() ? given : null;
  }
  function show() {
    const given = reading(), good = read();
    row.textContent = "";
    said.className = `rc-said rc-reading${given && !given.ok ? " rc-no" : ""}`;
    said.textContent = !box.value.trim() ? "" : good ? `Read as ${good.shown}` : given && !given.ok ? given.shown : "";
    for (const meant of (!good && given && given.ask) || []) {
      const button = make("button", "rc-second", meant);
      button.type = "button";
      button.setAttribute("aria-label", `I mean ${meant}`);
      button.addEventListener("click", () => {
        box.value = meant;
        changed(meant);
        ask();
        box.focus();
      });
      row.appendChild(button);
    }
    if (entered && given) {
      entered = false;
      if (good) queueMicrotask(host.entered);
    }
  }
  const refresh = () => { if (box !== document.activeElement) box.value = value(); };
  set.append(label, box, said, row);
  return { box, read, show, refresh };
}

// Reading is asked for a moment after the last key.
function reader(host, typed, read, empty, forget = () => null) {
  let waiting = null;
  const ask = () => {
    clearTimeout(waiting);
    if (empty() || read()) return;
    host.put({ typed: typed(), ask_reading: (host.get("ask_reading") || 0) + 1 });
  };
  const changed = (at) => {
    clearTimeout(waiting);
    if (host.get("reading")) host.model.set("reading", forget(at));
    host.answered(typed(), false);
    waiting = setTimeout(ask, 300);
  };
  return { ask, changed, close: () => clearTimeout(waiting) };
}

function number(host, question, set) {
  const bare = question.accept.every((unit) => !unit);
  const one = {};
  const reads = reader(host, () => one.box.value, () => one.read(), () => !one.box.value.trim());
  Object.assign(one, figureBox(host, question, set, {
    id: `${host.id}-number`, words: bare ? "Your answer" : "Your answer, with its unit",
    value: () => host.get("typed") || "", reading: () => host.get("reading"), changed: () => reads.changed(), ask: reads.ask,
  }));
  return { ready: () => Boolean(one.read()), typed: () => one.box.value, refresh: one.refresh, show: one.show, ask: reads.ask,
    close: reads.close };
}

// A job sheet: a labelled box for every entry, each with its own reading.
function sheet(host, question, set) {
  const texts = () => (Array.isArray(host.get("typed")) ? host.get("typed") : []);
  const readings = () => (host.get("reading") || {}).boxes || [];
  const typed = () => { const row = entries.map((one) => one.now()); return row.some((text) => text.trim()) ? row : []; };
  const read = () => entries.every((one, at) => !one.now().trim() || one.read(readings()[at]));
  const forget = (at) => ({ ok: false, shown: "", ask: null, boxes: readings().map((one, place) => (place === at ? null : one)) });
  const reads = reader(host, typed, read, () => !typed().length, forget);
  const entries = question.boxes.map((asked, at) => {
    const id = `${host.id}-box-${asked.box}`, words = `${asked.box}. ${asked.label}`;
    if (asked.kind === "number") {
      const one = figureBox(host, asked, set, { id, words, value: () => texts()[at] || "", reading: () => readings()[at] || null,
        changed: () => reads.changed(at), ask: reads.ask });
      one.box.before(make("p", "rc-quiet", units(asked)));
      return { now: () => one.box.value, read: one.read, show: one.show, refresh: one.refresh };
    }
    const list = picker(id, words, asked.options, set, () => { reads.changed(at); reads.ask(); });
    list.after(make("p", "rc-on-paper", asked.options.map((one) => `${one.letter} ${one.text}`).join("; ")));
    const refresh = () => { list.value = texts()[at] || ""; };
    refresh();
    return { now: () => list.value, read: (given) => Boolean(given && given.ok), refresh };
  });
  const left = () => entries.map((one, at) => (one.now().trim() ? null : question.boxes[at].box)).filter(Boolean);
  return { ready: () => Boolean(typed().length) && read(), typed, ask: reads.ask, close: reads.close,
    refresh: () => entries.forEach((one) => one.refresh()), show: () => entries.forEach((one) => one.show && one.show()),
    doubt: () => (left().length ? `Left empty: box ${left().join(", ")}. To leave it so, press Confirm again.` : "") };
}

function picker(id, words, options, set, changed, heading = "rc-label") {
  const label = make("label", heading, words), list = make("select");
  label.htmlFor = list.id = id;
  list.append(new Option("choose", ""), ...options.map((one) => new Option(`${one.letter}  ${one.text}`, one.letter)));
  list.addEventListener("change", changed);
  set.append(label, list);
  return list;
}

// Match: the lettered side stands as a list, and every line of the other side gets a letter.
function match(host, question, set) {
  const side = make("ul", "rc-side");
  for (const option of question.options) {
    const item = make("li");
    item.append(make("span", "rc-letter", option.letter), ` ${option.text}`);
    side.appendChild(item);
  }
  set.appendChild(side);
  const typed = () => { const row = lists.map((list) => list.value); return row.some(Boolean) ? row : []; };
  const lists = question.left.map((text, at) => picker(`${host.id}-line-${at + 1}`, `${at + 1}. ${text}`, question.options, set,
    () => host.answered(typed())));
  const refresh = () => lists.forEach((list, at) => { list.value = (host.get("typed") || [])[at] || ""; });
  refresh();
  const left = () => lists.map((list, at) => (list.value ? null : at + 1)).filter(Boolean);
  return { ready: () => Boolean(typed().length), typed, refresh,
    doubt: () => (left().length ? `Without a letter: line ${left().join(", ")}. To leave it so, press Confirm again.` : "") };
}

function order(host, question, set) {
  const list = make("ol", "rc-order");
  list.setAttribute("aria-describedby", `${host.id}-how`);
  set.appendChild(list);
  const moved = () => Array.isArray(host.get("typed")) && host.get("typed").length > 0;
  const rowNow = () => (moved() ? [...host.get("typed")] : question.options.map((one) => one.letter));

  function draw(letterMoved, way) {
    const row = rowNow();
    let focus = null;
    list.textContent = "";
    row.forEach((letter, at) => {
      const option = question.options.find((one) => one.letter === letter) || { text: "" };
      const item = make("li");
      item.append(make("span", "rc-place", `${at + 1} of ${row.length}`), make("span", "rc-letter", letter),
        make("span", "rc-grow", option.text));
      for (const [word, step] of [["up", -1], ["down", 1]]) {
        const button = make("button", "rc-second", word);
        button.type = "button";
        button.setAttribute("aria-label", `Move ${option.text || letter} ${word}`);
        const last = at + step < 0 || at + step >= row.length;  // it keeps the focus, so it is not truly disabled
        if (last) button.setAttribute("aria-disabled", "true");
        button.addEventListener("click", () => {
          if (last) return host.say(`${option.text || letter} is ${step < 0 ? "first" : "last"} already.`);
          const now = rowNow();
          [now[at], now[at + step]] = [now[at + step], now[at]];
          host.answered(now);
          draw(letter, word);
          host.say(`${option.text || letter} is now ${at + step + 1} of ${now.length}.`);
        });
        item.appendChild(button);
        if (letter === letterMoved && word === way) focus = button;
      }
      list.appendChild(item);
    });
    if (focus) focus.focus();
  }

  draw(null);
  return { ready: () => true, typed: rowNow, refresh: () => draw(null), keeps: true,
    doubt: () => (moved() ? "" : "You have moved nothing. If this is your order, press Confirm again.") };
}

const CONTROLS = {
  "one choice": (host, question, set) => boxes(host, question, set, "radio"),
  place: (host, question, set) => boxes(host, question, set, "radio"),
  "several choices": (host, question, set) => boxes(host, question, set, "checkbox"),
  number, order, match, sheet,
};
