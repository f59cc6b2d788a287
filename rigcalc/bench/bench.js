/* The tablet form: one pane a candidate, one stage a screen, one tap a line. */
(() => {
  const app = document.getElementById("bench");
  const VIEW = `bench-view:${form.form_id}`;
  const view = Object.assign({ who: form.candidates.length > 1 ? "both" : form.candidates[0].id, stage: {}, paper: false }, stored());
  const how = {};
  let over = null;

  function stored() { try { return JSON.parse(localStorage.getItem(VIEW)) || {}; } catch { return {}; } }
  function keepView() { try { localStorage.setItem(VIEW, JSON.stringify(view)); } catch { /* the view is no record */ } }
  function el(tag, attrs = {}, ...inside) {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attrs)) {
      if (name === "tap") made.addEventListener("click", value);
      else if (name === "pressed") made.setAttribute("aria-pressed", String(value));
      else if (value === true) made.setAttribute(name, "");
      else if (value !== false && value != null) made.setAttribute(name, value);
    }
    made.append(...inside.flat(Infinity).filter((x) => x !== null && x !== undefined && x !== false));
    return made;
  }
  const button = (label, tap, attrs = {}) => el("button", { type: "button", tap, ...attrs }, label);
  /* The same choice tapped again changes nothing: neither a finding nor what Undo takes back. */
  const SLOT = { seen: [], measured: ["part"], gauged: ["crimp", "press"], chose: [], counted: ["material", "which"], called: ["number"] };
  function standing(event) {
    const last = SLOT[event.kind] && read.last(event.kind, event.candidate, event.piece || 0, event.item, (e) => SLOT[event.kind].every((name) => e[name] === event[name]));
    return last && Object.keys(event).every((name) => name === "piece" || last[name] === event[name]) && (last.cause || null) === (event.cause || null);
  }
  const add = (event) => (standing(event) ? draw() : taps.add({ ...event, paper: view.paper }));
  const causeText = (id) => (form.causes.find((c) => c.id === id) || { text: "another reason" }).text;
  const person = (id) => form.candidates.find((c) => c.id === id);

  /* ---------------------------------------------------------------- lines */
  function seenLine(c, piece, item) {
    const slot = `${c}|${piece}|${item.key}`;
    const last = read.last("seen", c, piece, item.key);
    const by = how[slot] || last?.how || item.how;
    const stuck = item.throughout && taps.live().some((e) => e.kind === "seen" && e.candidate === c && e.item === item.key && e.result === "wrong");
    const said = (result) => (["right", "wrong"].includes(result) ? `seen ${result}` : result);
    const choice = (result) => button((last?.result === result ? "● " : "") + said(result),
      () => { delete how[slot]; add({ kind: "seen", candidate: c, piece, item: item.key, result, how: by }); },
      { class: `choice ${result.replace(" ", "-")}`, pressed: last?.result === result, "aria-label": `${item.number} ${said(result)}` });
    const next = { live: "piece", piece: "record", record: "live" }[by];
    const hows = button(el("span", {}, el("small", {}, "how"), el("br"), by), () => {
      if (last) add({ kind: "seen", candidate: c, piece, item: item.key, result: last.result, how: next });
      else { how[slot] = next; draw(); }
    }, { class: "how", "aria-label": `${item.number} how seen: ${by}; tap for ${next}` });
    const rare = item.on_occasion?.length > 0;
    return [el("div", { class: rare ? "choices rare" : "choices" }, choice("right"), choice("wrong"), choice("not seen"), rare && choice("no occasion"), hows),
      stuck && last.result !== "wrong" && el("p", { class: "note" }, "Seen wrong once today: that stays.")];
  }
  function measureLine(c, piece, item) {
    const found = taps.line(c, piece, item.key);
    return [el("div", { class: "parts" }, item.limit.parts.map((part, n) => {
      const value = read.last("measured", c, piece, item.key, (e) => e.part === n);
      return button(el("span", {}, el("small", {}, part), el("br"), value ? `${value.value} ${value.unit}` : "tap to enter"),
        () => pad(c, piece, item, n), { class: "part" + (value ? " filled" : ""), "aria-label": `${item.number} ${part}` });
    })), el("p", { class: "note" }, found?.state === "wrong" ? [el("strong", { class: "wrong" }, "OUTSIDE."), ` ${found.why}.`] : `Limit: ${item.limit.said}.`,
      ` With: ${item.instruments.join(" or ")}.`, found?.state === "right" && el("strong", { class: "right" }, " Within."))];
  }
  function gaugeLine(c, piece, item) {
    const rows = [];
    for (let crimp = 1; crimp <= item.crimps; crimp++) {
      const [one, two] = read.presses(c, piece, item.key, crimp);
      rows.push(crimpRow(c, piece, item, crimp, 1, one, two));
      if (one && !one.passed) rows.push(crimpRow(c, piece, item, crimp, 2, two));
    }
    if (read.failedTwice(c, piece, item)) rows.push(el("p", { class: "stop", role: "alert" },
      `Second failure: this piece is scrap, tool ${form.made.tool} goes out of use, and all it pressed since the last good gauging is gauged again. Tap the three lines below.`));
    return rows;
  }
  function crimpRow(c, piece, item, crimp, press, event, later) {
    const label = press === 1 ? `Crimp ${crimp}` : `Crimp ${crimp}, pressed again once`;
    const choice = (passed) => button((event?.passed === passed ? "● " : "") + (passed ? "passed" : "did not pass"),
      () => add({ kind: "gauged", candidate: c, piece, item: item.key, crimp, press, passed }),
      { class: `choice ${passed ? "right" : "wrong"}`, pressed: event?.passed === passed, disabled: Boolean(later), "aria-label": `${label} ${passed ? "passed" : "did not pass"}` });
    return el("div", { class: "crimp" + (press === 2 ? " again" : "") }, el("span", {}, label), choice(true), choice(false));
  }
  function chooseLine(c, piece, item) {
    const last = read.last("chose", c, piece, item.key)?.choice;
    return [el("div", { class: "picks" }, item.choices.map((choice) => button((last === choice ? "● " : "") + choice,
      () => add({ kind: "chose", candidate: c, piece, item: item.key, choice }),
      { class: "pick", pressed: last === choice, "aria-label": `${item.number} ${choice}` }))),
      last && item.must_be && last !== item.must_be && el("p", { class: "stop", role: "alert" }, "Stop: nothing is assessed with it. Put it right, or open another form.")];
  }
  function countLine(c, piece, item) {
    const which = item.counts === "out" ? ["out"] : ["in pieces", "unused"];
    return form.issue.material.map((m) => el("div", { class: "crimp" }, el("span", {}, m.text), which.map((w) => {
      const value = read.last("counted", c, piece, item.key, (e) => e.material === m.id && e.which === w);
      return [w === "out" && button(`${m.issued}, as the task says`, () => add({ kind: "counted", candidate: c, item: item.key, material: m.id, which: w, number: m.issued }),
        { class: "choice", pressed: value?.number === m.issued, "aria-label": `${m.text} ${m.issued} out` }),
      button(el("span", {}, el("small", {}, w === "out" ? "another number" : w), el("br"), value && !(w === "out" && value.number === m.issued) ? String(value.number) : "tap to enter"),
        () => countPad(c, item, m, w),
        { class: "part", "aria-label": `${m.text} ${w}` })];
    })));
  }
  function countPad(c, item, m, w, note = "") {
    const most = 2 * m.issued;
    numberPad(`${m.text}, ${w}`, ["pieces"], (number) => (Number(number) > most
      ? countPad(c, item, m, w, `Refused: ${number} ${m.text} was given; the task issues ${m.issued}, at most ${most} are taken; count again.`)
      : add({ kind: "counted", candidate: c, item: item.key, material: m.id, which: w, number: Number(number) })), note);
  }
  function callsLine(c, piece, item) {
    return form.set.pieces.map((number) => {
      const call = read.last("called", c, 0, item.key, (e) => e.number === number);
      const reject = (cause) => add({ kind: "called", candidate: c, item: item.key, number, call: "reject", ...(cause ? { cause } : {}) });
      return el("div", { class: "crimp call" }, el("span", {}, `Piece ${number}`),
        button((call?.call === "pass" ? "● " : "") + "pass", () => add({ kind: "called", candidate: c, item: item.key, number, call: "pass" }),
          { class: "choice right", pressed: call?.call === "pass", "aria-label": `piece ${number} pass` }),
        button((call?.call === "reject" ? "● " : "") + "reject", () => causes(`Piece ${number}: the candidate's cause`, reject, () => reject(null), "no cause given yet"),
          { class: "choice wrong", pressed: call?.call === "reject", "aria-label": `piece ${number} reject` }),
        el("span", { class: "cause" }, call?.call === "reject" ? (call.cause ? causeText(call.cause) : "cause not given yet") : ""));
    });
  }
  const WORDS_MS = 5000; // from the last key until words are sent by themselves
  function writing(label, draftKey, saved, save, stands) {
    const id = `w-${draftKey.replace(/[^a-z0-9]/gi, "-")}`;
    const area = el("textarea", { id, rows: "2", maxlength: "600" });
    let sent = saved, stay = taps.mark(), left = false, later = 0;
    area.value = draft(draftKey) ?? saved ?? "";
    area.unsent = () => area.value !== (sent ?? "");
    area.settle = (byItself = false) => {
      clearTimeout(later);
      draft(draftKey, null);
      const now = stands(), before = sent;
      if (!area.unsent()) return;
      sent = area.value;
      save(area.value, stay, byItself);
      // Words that came from another page since this box was drawn: their place is taken by these, and that is said.
      if (now && now !== before && !plain(area.value).startsWith(plain(now))) taps.tell(`Words of another page stood there: "${now.trim()}". Yours take their place now; both are kept and told to whoever decides. Write all that holds into the box.`);
    };
    area.addEventListener("input", () => {
      draft(draftKey, area.value);
      clearTimeout(later);
      later = setTimeout(() => area.settle(true), WORDS_MS);
      if (unsentWords() !== saidUnsent) draw();
    });
    // A stay ends when the cursor goes elsewhere on the page, not when another page is looked at meanwhile.
    area.addEventListener("blur", () => { left = document.activeElement !== area; });
    area.addEventListener("focus", () => { if (left) stay = taps.mark(); left = false; });
    // Later, so that the field now tapped has its focus first; words a closed page left behind are saved at once.
    area.addEventListener("change", () => setTimeout(() => area.settle(), 0));
    if (draft(draftKey) !== null) setTimeout(() => { if (document.activeElement !== area) area.settle(); }, 0);
    return el("div", { class: "writing" }, el("label", { for: id }, label), area);
  }
  let saidUnsent = false;
  const boxes = () => [...app.querySelectorAll("textarea")];
  const unsentWords = () => boxes().some((area) => area.unsent());
  const sendWords = () => boxes().forEach((area) => area.settle(true));
  function draft(key, value) {
    const name = `bench-draft:${form.form_id}:${key}`;
    try {
      if (value === undefined) return localStorage.getItem(name);
      if (value === null) localStorage.removeItem(name); else localStorage.setItem(name, value);
    } catch { /* without storage the words are saved when the field is left */ }
    return null;
  }
  function writeLine(c, piece, item) {
    const saved = read.last("wrote", c, 0, item.key)?.words, found = taps.line(c, 0, item.key);
    return [writing("In your own words", `${c}|${item.key}`, saved, (words, stay, byItself) => taps.add({ kind: "wrote", candidate: c, item: item.key, words, stay, paper: view.paper }, byItself),
      () => read.last("wrote", c, 0, item.key)?.words),
      saved?.trim() && found && el("p", { class: "note" }, found.state === "right" ? el("strong", { class: "right" }, "In date.")
        : el("strong", { class: "wrong" }, `${found.state === "wrong" ? "NOT IN DATE" : "NOT FILLED"}: ${found.why}.`))];
  }
  const LINES = { see: seenLine, measure: measureLine, gauge: gaugeLine, choose: chooseLine, count: countLine, calls: callsLine, write: writeLine };
  const WIDE = new Set(["gauge", "calls", "choose", "count", "write"]);

  function line(c, piece, item, pinned = false) {
    return el("section", { class: `line ${item.kind}${WIDE.has(item.kind) ? " tall" : ""}${pinned ? " pinned" : ""}`, "data-line": item.key },
      el("p", { class: "see" }, el("span", { class: "number" }, item.number), " ", item.critical && el("strong", { class: "critical" }, "CRITICAL"), item.critical && " ", item.see),
      el("div", { class: "answer" }, LINES[item.kind](c, piece, item)));
  }

  /* ---------------------------------------------------------------- a pane */
  function pane(c) {
    const now = Math.min(view.stage[c] || 0, form.stages.length - 1);
    const stage = form.stages[now];
    const piece = stage.per === "day" ? 0 : read.piece(c);
    const applying = stage.items.filter((i) => read.applies(c, piece, stage, i));
    // What follows a second failure stands right under the gauge that showed it.
    const items = applying.filter((i) => i.when !== "second failure").flatMap((i) => (read.failedTwice(c, piece, i) ? [i, ...applying.filter((x) => x.when === "second failure")] : [i]));
    const pins = stage.hands ? form.stages.filter((s) => s !== stage).flatMap((s) => s.items).filter((i) => i.throughout && form.stages.find((s) => s.items.includes(i)).task === stage.task) : [];
    const stopped = read.toolStopped();
    const list = el("div", { class: "list", "data-list": c, tabindex: "-1" },
      stopped && stage.per !== "day" && !items.some((i) => read.failedTwice(c, piece, i)) && el("p", { class: "stop" }, `Tool ${form.made.tool} is out of use since ${stopped.name}'s piece.`),
      read.rejected(c).length >= (form.issue?.pieces || 1) && stage.per !== "day" && el("p", { class: "stop" }, "Every issued piece was rejected: go on with the last stages."),
      pins.map((i) => line(c, 0, i, true)),
      items.filter((i) => !i.at_hold).map((i) => line(c, piece, i)),
      stage.hold && el("p", { class: "hold" }, el("strong", {}, "STOP, show me: "), stage.hold),
      items.filter((i) => i.at_hold).map((i) => line(c, piece, i)),
      stage.words && wordsOf(c),
      now === 0 && button(view.paper ? "● Typing in a paper form: on" : "Typing in a paper form: off", () => { view.paper = !view.paper; keepView(); draw(); }, { class: "plain", pressed: view.paper }),
      now === 0 && about());
    return el("article", { class: "pane", "data-pane": c, "aria-label": person(c).name },
      el("div", { class: "pane-head" }, el("h2", {}, person(c).name, el("small", {}, stage.per !== "day" && form.issue ? ` piece ${piece} of ${form.issue.pieces} · ` : " · ", `stage ${now + 1} of ${form.stages.length}: ${stage.title}`)),
        el("div", { class: "page-keys", hidden: true }, button("▲", () => list.scrollBy(0, -list.clientHeight * 0.8), { class: "plain", "aria-label": "up" }), button("▼ more", () => list.scrollBy(0, list.clientHeight * 0.8), { class: "plain" }))),
      list,
      el("div", { class: "keys" },
        button("‹ Back", () => go(c, now - 1), { class: "plain", disabled: now === 0 }),
        button("Stages", () => stages(c), { class: "plain" }),
        stage.hands && button("Help given", () => add({ kind: "helped", candidate: c, item: stage.id }), { class: "plain" }),
        stage.per !== "day" && button("Rejects own piece", () => rejects(c), { class: "plain", disabled: read.scrapped(c, piece) || read.rejected(c).length >= (form.issue?.pieces || 1) }),
        button("Next ›", () => go(c, now + 1), { class: "next", disabled: now === form.stages.length - 1 })));
  }
  function about() {
    const lines = form.tasks.map((t) => el("p", {}, el("strong", {}, `${t.id} ${t.title}. `), t.text, ` About ${t.minutes} min.`));
    return el("div", { class: "about" }, lines, form.issue && el("p", {}, form.issue.note), document.getElementById("headline").content.cloneNode(true));
  }
  function go(c, stage) {
    view.stage[c] = Math.max(0, Math.min(stage, form.stages.length - 1));
    keepView();
    draw();
    document.querySelector(`[data-list="${CSS.escape(c)}"]`)?.scrollTo(0, 0);
  }
  function wordsOf(c) {
    const helps = taps.live().filter((e) => e.kind === "helped" && e.candidate === c);
    const titled = (id) => form.stages.find((s) => s.id === id)?.title || id;
    const said = (about) => read.words(c, about)?.words;
    const box = (label, key, about) => [writing(label, `${c}|${key}`, said(about), (words, stay, byItself) => taps.add({ kind: "wrote", candidate: c, about, words, device: taps.device, stay, paper: view.paper }, byItself), () => said(about)),
      read.replaced(c, about).map((one) => el("p", { class: "note replaced" }, `${one.back ? "Taken back" : "Replaced"}, kept and told to whoever decides: "${one.words}" (${taps.clock(one.at)}${one.device ? `, device ${one.device}` : ""})`))];
    return el("div", {}, helps.map((h) => box(`Help given at "${titled(h.item)}": your words`, h.id, h.id)), box("Anything else the decider should know", "day", ""),
      el("p", { class: "note" }, `Words are saved with the time and this device's mark, ${taps.device}. Words that are replaced are kept.`));
  }

  /* ---------------------------------------------------------------- what lies over the form */
  function show(title, ...inside) { over = el("div", { class: "over", role: "dialog", "aria-modal": "true", "aria-label": title }, el("div", { class: inside.some((x) => x?.classList?.contains("pad")) ? "sheet with-pad" : "sheet" }, el("h2", {}, title), inside)); draw(); over.querySelector("button")?.focus(); }
  function shut() { over = null; draw(); }
  function causes(title, picked, without, withoutText) {
    show(title, el("div", { class: "causes" }, form.causes.map((x) => button(x.text, () => { over = null; picked(x.id); }, { class: "pick" })),
      without && button(withoutText, () => { over = null; without(); }, { class: "plain" })), button("Cancel", shut, { class: "plain" }));
  }
  function rejects(c) {
    const piece = read.piece(c);
    causes(`${person(c).name} rejects own piece ${piece}: the reason`, (cause) => { add({ kind: "rejected", candidate: c, piece, cause }); go(c, form.stages.findIndex((s) => s.per !== "day")); },
      () => { add({ kind: "rejected", candidate: c, piece, cause: "other" }); go(c, form.stages.findIndex((s) => s.per !== "day")); }, "another reason");
  }
  function stages(c) {
    show(`${person(c).name}: stages`, el("div", { class: "stages" }, form.stages.map((s, n) => {
      const piece = s.per === "day" ? 0 : read.piece(c);
      const open = s.items.filter((i) => read.applies(c, piece, s, i) && !read.filled(c, piece, i)).length;
      return button(el("span", {}, `${s.number} ${s.title}`, el("small", {}, open ? `${open} open` : "filled")), () => { over = null; go(c, n); }, { class: "pick", pressed: n === (view.stage[c] || 0) });
    })), button("Close", shut, { class: "plain" }));
  }
  function pad(c, piece, item, part) {
    let instrument = item.instruments[0];
    numberPad(`${person(c).name}: ${item.see}, ${item.limit.parts[part]}`, item.limit.units, (value, unit) => {
      add({ kind: "measured", candidate: c, piece, item: item.key, part, value, unit, instrument });
      if (part + 1 < item.limit.parts.length && !read.last("measured", c, piece, item.key, (e) => e.part === part + 1)) pad(c, piece, item, part + 1);
    }, `Limit: ${item.limit.said}`, item.instruments, (picked) => { instrument = picked; });
  }
  function numberPad(title, units, done, note = "", instruments = [], pick = () => {}) {
    let typed = "";
    const shown = el("output", { class: "typed", "aria-live": "polite" }, "0");
    const finish = units.map((unit) => button(unit, () => { const value = typed.trim(); over = null; draw(); done(value, unit); }, { class: "unit", disabled: true, "aria-label": `enter in ${unit}` }));
    const fits = (text) => /^\d{1,5}(\.\d{0,3})?$/.test(text) || (units.includes("in") && /^\d{1,3}( \d{0,2}(\/\d{0,2})?|\/\d{0,2})?$/.test(text));
    const whole = () => /^(\d+(\.\d+)?|\d+ \d+\/\d+|\d+\/\d+)$/.test(typed.trim());
    const press = (sign) => {
      if (sign === "⌫") typed = typed.slice(0, -1);
      else if (fits(typed + sign) && !(units[0] === "pieces" && (sign === "." || typed.length > 2))) typed += sign;
      shown.textContent = typed || "0";
      finish.forEach((b) => { b.disabled = !whole() || (/[\/ ]/.test(typed.trim()) && b.textContent !== "in"); });
    };
    const signs = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"].concat(units.includes("in") ? ["/", " "] : []);
    const keys = el("div", { class: "pad" }, signs.map((s) => button(s === " " ? "space" : s, () => press(s), { class: "key", "aria-label": s === "⌫" ? "rub out" : s === " " ? "space" : s })));
    const tools = instruments.length === 1 ? el("p", { class: "note" }, `With: ${instruments[0]}`) : el("div", { class: "instruments" }, instruments.map((name, n) => button(name, (e) => { pick(name); tools.querySelectorAll("button").forEach((b) => b.setAttribute("aria-pressed", String(b === e.currentTarget))); }, { class: "pick", pressed: n === 0 })));
    show(title, el("div", { class: "beside" }, note && el("p", { class: "note" }, note), shown), keys,
      el("div", { class: "beside enter" }, instruments.length ? tools : null, el("p", { class: "note" }, "Tap the unit to enter the value:"), el("div", { class: "units" }, finish)), button("Cancel", shut, { class: "plain" }));
    over.addEventListener("keydown", (e) => { if (/^[0-9./ ]$/.test(e.key)) { press(e.key); e.preventDefault(); } else if (e.key === "Backspace") press("⌫"); else if (e.key === "Escape") shut(); });
  }

  /* ---------------------------------------------------------------- the whole screen */
  function describe(e) {
    const item = form.stages.flatMap((s) => s.items).find((i) => i.key === e.item);
    const what = { seen: () => (["right", "wrong"].includes(e.result) ? `seen ${e.result}` : e.result), measured: () => `${e.value} ${e.unit}`, gauged: () => `crimp ${e.crimp} ${e.passed ? "passed" : "did not pass"}`,
      chose: () => e.choice, counted: () => `${e.number} ${e.which}`, called: () => `piece ${e.number} ${e.call}`, rejected: () => "own piece rejected", helped: () => "help given", wrote: () => "words" }[e.kind]();
    const first = person(e.candidate).name.split(" ")[0];
    return `${form.candidates.length > 1 ? first + ", " : ""}${item ? item.number + " " : ""}${what.length > 26 ? what.slice(0, 25) + "…" : what}`;
  }
  function top() {
    const last = taps.live().at(-1);
    let state = taps.say();
    saidUnsent = unsentWords();
    if (saidUnsent) state = { kind: "no", text: "Words not saved yet" + (state.kind === "no" ? `. ${state.text}` : "") };
    const who = form.candidates.length > 1 ? form.candidates.map((c) => ({ id: c.id, text: c.name })).concat({ id: "both", text: "Both" }) : [];
    return el("header", { class: "bar" },
      el("div", { class: "row" },
        who.map((w) => button((view.who === w.id ? "● " : "") + w.text, () => { view.who = w.id; keepView(); draw(); }, { class: "who", pressed: view.who === w.id })),
        el("div", { class: "states" }, el("p", { class: `state ${state.kind}`, role: "status" }, state.text), el("p", { class: "short" }, view.paper && el("strong", {}, "Typing in a paper form · "), form.practice && el("strong", {}, "PRACTICE "), form.shop.invented && el("strong", {}, "INVENTED "), `chart ${form.chart.id}, edition ${form.chart.edition}`)),
        button(el("span", {}, last ? `Undo: ${describe(last)}` : "Undo"), () => taps.undo(), { class: "undo", disabled: !last }),
        button("Print", print, { class: "plain print-key" })),
      [taps.since(), taps.told(), unprinted].map((told) => told && el("p", { class: "state no", role: "alert" }, told)));
  }
  /* The paper form was drawn when the page was opened: it is fetched anew, so that what is saved by now stands on it. */
  let unprinted = "";
  async function print() {
    try {
      const now = new DOMParser().parseFromString(await (await fetch(location.href, { cache: "no-store" })).text(), "text/html").querySelector(".paper");
      document.querySelector(".paper").replaceChildren(...now.childNodes);
      unprinted = "";
    } catch {
      unprinted = "Not printed: the form as it is saved could not be fetched. Try again when the page is connected.";
    }
    draw();
    if (!unprinted) window.print();
  }
  /* A key must not be replaced between a finger's coming down and its tap: until then drawing waits. */
  let held = false, wanted = false, release = 0;
  const letGo = () => { clearTimeout(release); held = false; if (wanted) draw(); };
  document.addEventListener("pointerdown", () => { clearTimeout(release); held = true; }, true);
  for (const name of ["pointerup", "pointercancel"]) document.addEventListener(name, () => { release = setTimeout(letGo, 400); }, true);
  document.addEventListener("click", () => { clearTimeout(release); held = false; setTimeout(letGo, 0); }, true);

  function draw() {
    if (held) { wanted = true; return; }
    wanted = false;
    if (document.activeElement?.tagName === "TEXTAREA" && app.contains(document.activeElement) && !over) { app.querySelector(".bar")?.replaceWith(top()); return; }
    const at = Object.fromEntries([...app.querySelectorAll("[data-list]")].map((l) => [l.dataset.list, l.scrollTop]));
    const focus = over ? null : document.activeElement?.getAttribute?.("aria-label"), pane_ = document.activeElement?.closest?.("[data-pane]")?.dataset.pane;
    const shown = view.who === "both" ? form.candidates.map((c) => c.id) : [view.who];
    app.replaceChildren(top(), el("div", { class: `panes n${shown.length}`, inert: Boolean(over) }, shown.map(pane)), ...(over ? [over] : []));
    if (unsentWords() !== saidUnsent) app.querySelector(".bar").replaceWith(top());
    for (const list of app.querySelectorAll("[data-list]")) {
      list.scrollTop = at[list.dataset.list] || 0;
      list.previousElementSibling.querySelector(".page-keys").hidden = list.scrollHeight <= list.clientHeight + 4;
    }
    if (focus) app.querySelector(`${pane_ ? `[data-pane="${CSS.escape(pane_)}"] ` : ""}[aria-label="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
  }
  if (!person(view.who) && view.who !== "both") view.who = form.candidates[0].id;
  taps.onChange(draw);
  window.addEventListener("resize", draw);
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") sendWords(); });
  window.addEventListener("pagehide", sendWords);
  window.addEventListener("beforeunload", (e) => { if (taps.unsaved()) e.preventDefault(); });
  app.addEventListener("focusout", (e) => { if (e.target.tagName === "TEXTAREA") setTimeout(draw, 0); });
  draw();
  taps.send();
})();
