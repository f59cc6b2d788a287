// A live figure. It shows what `view` holds and tells `act` what a hand did; all sense is made on the other side.
// Text is put in as text. Drawings and the block under them are made by the workbook itself, their words already escaped.

const CSS = `
.rc-board { font:1rem/1.5 "Source Sans 3","Segoe UI","DejaVu Sans",system-ui,sans-serif; color:#1d2328; max-width:48rem; box-sizing:border-box;
  border:2px solid #17405c; border-radius:8px; padding:.8rem 1rem 1rem; background:#fffdf6; }
.rc-board h4 { margin:0 0 .5rem; font-size:1.1em; color:#17405c; }
.rc-board .rcb-controls { display:flex; flex-wrap:wrap; gap:.6rem 1.4rem; align-items:end; margin:.3rem 0 .6rem; }
.rc-board fieldset { border:0; margin:0; padding:0; min-width:0; background:none; } .rc-board legend, .rc-board .rcb-label { font-weight:600; padding:0; display:block; }
.rc-board .rcb-options { display:flex; flex-wrap:wrap; gap:.2rem .9rem; }
.rc-board .rcb-options label, .rc-board .rcb-tick { display:flex; gap:.45rem; align-items:center; min-height:2.4rem; cursor:pointer; font-weight:400; margin:0; }
.rc-board input[type=radio], .rc-board input[type=checkbox] { width:1.2rem; height:1.2rem; accent-color:#17405c; margin:0; flex:none; }
.rc-board .rcb-slide { flex:1 1 16rem; min-width:min(100%,14rem); } .rc-board input[type=range] { width:100%; height:2.4rem; accent-color:#17405c; margin:0; display:block; }
.rc-board .rcb-now { font-weight:700; margin-left:.5rem; display:inline-block; font-variant-numeric:tabular-nums; }
.rc-board select, .rc-board input[type=text] { font:inherit; color:inherit; background:#fff; border:2px solid #56606a; border-radius:5px; min-height:2.6rem;
  padding:.3rem .55rem; max-width:100%; box-sizing:border-box; }
.rc-board .rcb-hint { color:#56606a; font-size:.95em; display:block; }
.rc-board button { font:inherit; font-weight:600; min-height:2.6rem; padding:.35rem 1rem; border-radius:6px; border:2px solid #17405c; background:#17405c; color:#fff; cursor:pointer; }
.rc-board button.rcb-second { background:#fff; color:#17405c; } .rc-board button:disabled { opacity:.5; cursor:not-allowed; }
.rc-board .rcb-said p { margin:.3rem 0; padding:.35rem .8rem; border-left:6px solid #17405c; background:#fff; font-weight:600; }
.rc-board .rcb-said p.rcb-ok { border-left-color:#0b5d4e; } .rc-board .rcb-said p.rcb-no { border-left-color:#9a3b12; border-left-style:double; }
.rc-board .rcb-said p.rcb-ok::before { content:"✓ "; } .rc-board .rcb-said p.rcb-no::before { content:"✗ "; }
.rc-board figure { margin:.5rem 0; background:#fff; border:1px solid #c9c2b4; border-radius:6px; padding:.5rem; }
.rc-board figure svg { display:block; margin:0 auto; max-width:100%; height:auto; } .rc-board figcaption { margin:.3rem; }
.rc-board [data-pick] { cursor:pointer; } .rc-board [data-pick]:focus { outline:none; }
.rc-board [data-pick]:focus-visible { outline:3px solid #0b62c4; outline-offset:2px; }
.rc-board table { border-collapse:collapse; background:#fff; } .rc-board td, .rc-board th { border:1px solid #c9c2b4; padding:.25rem .55rem; text-align:left; }
.rc-board .rcb-under { overflow-x:auto; }
.rc-board :focus-visible { outline:3px solid #0b62c4; outline-offset:2px; }
html.projector .rc-board { max-width:none; border-width:4px; font-size:.8rem; line-height:1.35; padding:.4rem .7rem .6rem; }
html.projector .rc-board figure { margin:.25rem 0; padding:.25rem; } html.projector .rc-board figure svg { width:100%; max-height:56vh; }
html.projector .rc-board figure:has(+ figure) svg { max-height:24vh; } html.projector .rc-board figure + figure svg { max-height:36vh; }
html.projector .rc-board .rcb-options label, html.projector .rc-board .rcb-tick { min-height:1.6em; }
html.projector .rc-board button, html.projector .rc-board select, html.projector .rc-board input[type=text] { min-height:2em; padding:.15em .7em; }
@media print { .rc-board .rcb-controls { display:none; } }
`;

const QUIET_MS = 400;
let boards = 0;

function make(tag, kind, text) {
  const found = document.createElement(tag);
  if (kind) found.className = kind;
  if (text !== undefined && text !== null) found.textContent = String(text);
  return found;
}

function style(root) {
  const holder = root instanceof Document ? root.head : root;
  if (holder.querySelector("style[data-rc-board]")) return;
  const tag = make("style", "", CSS);
  tag.dataset.rcBoard = "1";
  holder.appendChild(tag);
}

function render({ model, el }) {
  const root = el.getRootNode();
  style(root.host ? root : document);
  const id = `rcb-${++boards}-${Math.floor(performance.now())}`;
  const shell = make("section", "rc-board explorer-board");
  // A page that listens for single keys (a notebook does) must not hear what is typed here.
  for (const heard of ["keydown", "keyup", "keypress"]) shell.addEventListener(heard, (event) => event.stopPropagation());
  const title = make("h4", "", model.get("title"));
  title.id = `${id}-title`;
  shell.setAttribute("aria-labelledby", title.id);
  const controls = make("div", "rcb-controls"), said = make("div", "rcb-said"), drawn = make("div"), under = make("div", "rcb-under");
  said.setAttribute("role", "status");
  shell.append(title, controls, said, drawn, under);
  el.appendChild(shell);

  let built = "", parts = {}, shown = [];

  function act(name, value, picked = false) {
    for (const [other, part] of Object.entries(parts)) if (other !== name && part.leave) part.leave();
    model.send({ name, value, picked }); // a message each: what is saved as a value is overwritten by the next before it is sent
  }

  const MAKE = {
    choice(one) {
      const set = make("fieldset");
      if (one.listed) {
        const label = make("label", "rcb-label", one.label), list = make("select");
        label.htmlFor = list.id = `${id}-${one.name}`;
        one.options.forEach((text, at) => { const option = make("option", "", text); option.value = at; list.append(option); });
        list.addEventListener("change", () => act(one.name, Number(list.value)));
        const box = make("div");
        box.append(label, list);
        return { box, put: (now) => { list.value = now.value; } };
      }
      set.append(make("legend", "", one.label));
      const row = make("div", "rcb-options"), marks = [];
      one.options.forEach((text, at) => {
        const label = make("label"), mark = make("input");
        mark.type = "radio"; mark.name = `${id}-${one.name}`; mark.value = at;
        mark.addEventListener("change", () => act(one.name, at));
        label.append(mark, make("span", "", text));
        row.append(label); marks.push(mark);
      });
      set.append(row);
      return { box: set, put: (now) => { marks.forEach((mark, at) => { mark.checked = at === now.value; }); } };
    },
    slider(one) {
      const box = make("div", "rcb-slide"), label = make("label", "rcb-label", one.label), range = make("input"), out = make("span", "rcb-now");
      range.type = "range"; label.htmlFor = range.id = `${id}-${one.name}`;
      out.setAttribute("aria-hidden", "true"); // the handle says its value itself
      label.append(out);
      // Values come back late: while a hand is on the handle, or was there a moment ago, they do not move it. What answers
      // an older place than the last one sent does not move it either.
      let waiting = false, held = "", last = -QUIET_MS, now = null, sent = [], settling = null;
      const send = () => { waiting = false; sent.push(Number(range.value)); act(one.name, sent[sent.length - 1]); };
      const settle = () => {
        clearTimeout(settling);
        const left = last + QUIET_MS - performance.now();
        if (held || waiting || left > 0) settling = setTimeout(settle, Math.max(left, 50));
        else if (!sent.length) range.value = now.value;
        else if (Number(range.value) === now.value) sent = [];
      };
      range.addEventListener("input", () => { last = performance.now(); if (!waiting) { waiting = true; setTimeout(send, 25); } });
      const free = () => { held = ""; };
      range.addEventListener("keydown", () => { held = "by key"; });
      range.addEventListener("pointerdown", () => { held = "by pointer"; addEventListener("pointerup", free, { once: true }); });
      range.addEventListener("change", () => { if (held === "by pointer") free(); });
      for (const ended of ["keyup", "pointercancel", "blur"]) range.addEventListener(ended, free);
      return { box, put: (given) => {
        now = given;
        range.min = now.least; range.max = now.most; range.step = now.step;
        sent = sent.slice(sent.indexOf(now.value) + 1 || sent.length);
        settle();
        out.textContent = now.shown; range.setAttribute("aria-valuetext", now.shown);
      }, then: () => box.append(label, range), leave: () => { last = -QUIET_MS; sent = []; } };  // the hand is at another control
    },
    amount(one) {
      const box = make("div"), label = make("label", "rcb-label", one.label), field = make("input");
      field.type = "text"; field.autocomplete = "off"; label.htmlFor = field.id = `${id}-${one.name}`;
      let sent = null;
      const send = () => { if (field.value !== sent) { sent = field.value; act(one.name, field.value); } };
      field.addEventListener("change", send);
      field.addEventListener("keydown", (event) => { if (event.key === "Enter") send(); });
      box.append(label, field);
      if (one.hint) { const hint = make("span", "rcb-hint", one.hint); hint.id = `${field.id}-hint`; field.setAttribute("aria-describedby", hint.id); box.append(hint); }
      return { box, put: (now) => { sent = now.value; if (root.activeElement !== field) field.value = now.value; } };
    },
    button(one) {
      const box = make("div"), press = make("button", one.second ? "rcb-second" : "", one.label);
      press.type = "button";
      press.addEventListener("click", () => act(one.name, null));
      box.append(press);
      return { box, put: (now) => { press.disabled = !now.enabled; press.textContent = now.label; } };
    },
    tick(one) {
      const label = make("label", "rcb-tick"), mark = make("input");
      mark.type = "checkbox";
      mark.addEventListener("change", () => act(one.name, mark.checked));
      label.append(mark, make("span", "", one.label));
      return { box: label, put: (now) => { mark.checked = now.value; } };
    },
  };

  // What the controls are, without what they stand at: only when this changes are they made anew.
  function frame(list) {
    return JSON.stringify(list.map((one) => [one.kind, one.name, one.kind === "button" ? "" : one.label, one.options, one.listed, one.hint, one.second]));
  }

  function control(list) {
    const wanted = frame(list);
    if (wanted !== built) {
      const held = root.activeElement && controls.contains(root.activeElement) ? root.activeElement.closest("[data-control]")?.dataset.control : null;
      controls.textContent = ""; parts = {};
      for (const one of list) {
        const part = MAKE[one.kind](one);
        part.box.dataset.control = one.name;
        if (part.then) part.then();
        parts[one.name] = part;
        controls.append(part.box);
      }
      built = wanted;
      if (held && parts[held]) parts[held].box.querySelector("input:checked, input, select, button")?.focus();
    }
    for (const one of list) parts[one.name].put(one);
  }

  // Parts that can be pointed at: one of them is reached by Tab, the others by the arrow keys.
  function point(svg) {
    const spots = [...svg.querySelectorAll("[data-pick]")];
    spots.forEach((spot, at) => {
      spot.setAttribute("role", "button"); spot.setAttribute("tabindex", at ? "-1" : "0");
      spot.setAttribute("aria-label", spot.dataset.label); spot.setAttribute("aria-pressed", String(Boolean(spot.dataset.on)));
      spot.addEventListener("click", () => act(spot.dataset.pick, spot.dataset.value, true));
      spot.addEventListener("keydown", (event) => {
        if (event.key === "Enter" || event.key === " ") { event.preventDefault(); act(spot.dataset.pick, spot.dataset.value, true); return; }
        const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
        const next = by ? spots[(at + by + spots.length) % spots.length] : event.key === "Home" ? spots[0] : event.key === "End" ? spots[spots.length - 1] : null;
        if (!next) return;
        event.preventDefault();
        spots.forEach((one) => one.setAttribute("tabindex", one === next ? "0" : "-1"));
        next.focus();
      });
    });
    return spots;
  }

  function draw(list) {
    const same = list.length === shown.length && list.every((one, at) => one.svg === shown[at].svg && one.alt === shown[at].alt && one.caption === shown[at].caption);
    if (same) return;
    const active = root.activeElement && drawn.contains(root.activeElement) ? root.activeElement : null;
    const held = active && active.dataset.pick ? [active.dataset.pick, active.dataset.value] : null;
    drawn.textContent = "";
    for (const one of list) {
      const frame = make("figure", "drawing");
      frame.innerHTML = one.svg;
      const svg = frame.querySelector("svg"), spots = point(svg);
      svg.setAttribute("role", spots.length ? "group" : "img");
      svg.setAttribute("aria-label", one.alt);
      if (one.caption) frame.append(make("figcaption", "", one.caption));
      drawn.append(frame);
      const again = held && spots.find((spot) => spot.dataset.pick === held[0] && spot.dataset.value === held[1]);
      if (again) { spots.forEach((spot) => spot.setAttribute("tabindex", spot === again ? "0" : "-1")); again.focus({ preventScroll: true }); }
    }
    shown = list;
  }

  function show() {
    const view = model.get("view");
    control(view.controls);
    said.textContent = "";
    for (const one of view.said) said.append(make("p", one.tone ? `rcb-${one.tone}` : "", one.text));
    draw(view.figures);
    if (under.innerHTML !== view.under) under.innerHTML = view.under;
    shell.dataset.turn = view.turn;
  }

  model.on("change:view", show);
  show();
}

export default { render };
