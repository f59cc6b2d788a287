// The sitting page: one form a question, every answer saved by the room before this page says so.
import form from "/room/form.js";
import { blank, words, same, here, post, element, button, lasting, clock, front, notConfirmed, Model } from "/room/parts.js";

const told = ({ typed, confirmed }) => (blank(typed) ? "No answer stands here." : confirmed ? "Confirmed and saved." : "Saved, not confirmed yet.");
const FEW = 15;  // questions whose buttons stand open above the question
const now = (one) => ({ typed: one.model.get("typed"), confirmed: Boolean(one.model.get("confirmed")) });

const data = JSON.parse(document.getElementById("data").textContent);
function sitting() {
  let at = 0, all = false, reviewing = false, ended = false;
  const moved = new Set();  // changed in another window since the list before handing in was shown
  const net = lasting(data.paper.paper_id);
  const entries = data.paper.questions.map(entry);
  let page = null;
  page = build();
  const time = clock(data.state.seconds_left, page.time, (words) => { page.news.textContent = words; }, over);

  function entry(question) {
    const kept = data.state.answers[question.slot];
    const empty = ["order", "several choices", "match", "sheet"].includes(question.kind) ? [] : "";
    const one = { question, slot: question.slot, revision: kept?.revision ?? 0, counts: kept?.counts ?? null,
      sent: { typed: kept?.typed ?? empty, confirmed: kept?.confirmed ?? false }, flying: false, wanted: null };
    one.model = new Model({ question, typed: one.sent.typed, confirmed: one.sent.confirmed, reading: null,
      feedback: null, mode: "sitting", saved: kept ? told(kept) : "", waits: false, unsaved: false, ask_reading: 0,
      title: `Question ${question.slot} of ${data.paper.questions.length}` });
    return one;
  }

  function build() {
    const root = document.getElementById("sitting");
    const parts = { time: element("span", "time"), news: element("p", "news", "", { role: "status" }),
      other: element("p", "said no", "", { role: "status" }), nav: element("ol", "steps"),
      panels: element("div", "panels"), review: element("section", "review card", "", { hidden: true }) };
    parts.other.hidden = true;
    parts.view = button("Show all questions", "second", () => { all = !all; reviewing = false; show(); });
    parts.before = button("Previous question", "second", () => go(at - 1));
    parts.after = button("Next question", "second", () => go(at + 1));
    parts.end = button("Look over and hand in", "second", review);
    const bar = element("div", "bar");
    bar.append(parts.time, parts.view, parts.end);
    const steps = element("nav", "", "", { "aria-label": "Questions" });
    parts.list = element("details", "list", "", { open: entries.length <= FEW });  // many would push the question off the screen
    parts.many = element("summary");
    parts.list.append(parts.many, parts.nav);
    steps.append(parts.list);
    parts.turn = element("div", "turn");
    parts.turn.append(parts.before, parts.after);
    root.append(bar, steps, parts.news, parts.other, parts.panels, parts.turn, parts.review);
    entries.forEach((one, index) => panel(one, index, parts));
    return parts;
  }

  function panel(one, index, parts) {
    one.step = button("", "step", () => go(index));
    const item = element("li"); item.append(one.step); parts.nav.append(item);
    one.panel = element("section", "panel", "", { "aria-labelledby": `q${one.slot}` });
    one.head = element("h2", "heard", `Question ${one.slot} of ${entries.length}`, { id: `q${one.slot}`, tabindex: "-1" });
    one.aside = element("div", "aside", "", { role: "status" });
    const el = element("div", "form");
    one.panel.append(one.head, one.aside, el);
    parts.panels.append(one.panel);
    form.render({ model: one.model, el });
    one.model.on("change:typed", () => { if (!one.taking) changed(one); });
    one.model.on("change:confirmed", () => { if (!one.taking) changed(one, true); });
    one.model.on("change:ask_reading", () => read(one));
    if (!blank(one.sent.typed)) read(one);
  }

  // Typing is saved a moment after the last key, a confirmation at once.
  function changed(one, atOnce = false) {
    clearTimeout(one.later);
    one.later = setTimeout(() => want(one), atOnce ? 0 : 500);
    net.keep(one.slot, { ...now(one), base: one.revision });
    mark(one);
  }

  function want(one) {
    const wish = now(one);
    if (same(wish, one.sent) && !one.flying) { net.drop(one.slot); return mark(one); }
    one.wanted = wish;
    if (!one.flying) send(one);
  }

  async function send(one) {
    const wish = one.wanted;
    one.wanted = null;
    one.flying = true;
    if (!one.model.get("unsaved")) one.model.set("saved", "Saving …");
    try {
      const answer = await post("save", { slot: one.slot, revision: one.revision + 1, ...wish });
      one.flying = false;
      settle(one, wish, answer);
    } catch {
      one.flying = false;
      one.model.set({ unsaved: true, saved: "NOT saved yet: the room cannot be reached. Leave this page open, it goes on trying." });
      one.wanted = one.wanted || wish;
      setTimeout(() => { if (one.wanted && !one.flying) send(one); }, 1500);
    }
    mark(one);
  }

  function settle(one, wish, answer) {
    one.model.set("unsaved", false);
    if (answer.ok) {
      one.revision = answer.saved; one.sent = wish; one.counts = answer.counts;
      time.set(answer.seconds_left);
      one.clash = false;
      if (wish.confirmed || !one.taken) cleared(one);
      one.model.set("saved", told(wish));
      if (one.unread) read(one);
      if (wish.confirmed && !all && document.activeElement === document.body) (page.after.disabled ? page.end : page.after).focus();
      if (same(now(one), wish)) net.drop(one.slot);
    } else if (answer.conflict) {
      conflict(one, wish, answer.state.answers[one.slot]);
    } else {
      one.model.set("saved", answer.said);
      if (wish.confirmed && answer.status === 422) quietly(one, { confirmed: false });
      if (answer.state?.handed_in) location.reload();
      if (answer.state?.seconds_left === 0) over();
    }
    if (one.wanted) send(one);
  }

  function quietly(one, fields) {
    one.taking = true;
    one.model.set(fields);
    one.taking = false;
  }

  function cleared(one) {
    one.aside.replaceChildren();
    one.taken = one.clash = false;
  }

  function adopt(one, kept) {
    if (reviewing && !(same([kept.typed, kept.confirmed], [one.sent.typed, one.sent.confirmed]) && same(kept.counts, one.counts))) moved.add(one);
    cleared(one);
    one.revision = kept.revision; one.counts = kept.counts;
    one.sent = { typed: kept.typed, confirmed: kept.confirmed };
    if (one.panel.contains(document.activeElement)) document.activeElement.blur();  // a box in use would keep its own text
    quietly(one, { typed: kept.typed, confirmed: kept.confirmed, saved: told(kept), unsaved: false });
    net.drop(one.slot);
    if (!blank(kept.typed)) read(one);
    mark(one);
  }

  function conflict(one, mine, kept, where = "in another window") {
    one.wanted = null;
    one.clash = true;
    one.taken = false;
    one.revision = kept.revision;
    one.counts = kept.counts;
    one.sent = { typed: kept.typed, confirmed: kept.confirmed };
    quietly(one, { confirmed: false, saved: "" });  // what stands here is confirmed nowhere
    one.aside.replaceChildren(element("p", "said no",
      `This question was answered ${where} too, and that one was quicker. Saved there: ${words(kept.typed) || "nothing"}`
      + `${kept.confirmed ? " (confirmed)" : ""}. Here: ${words(mine.typed) || "nothing"}. The one from here is set aside and does not `
      + "count. Choose which you want."),
      button("Keep the saved one", "second", () => { adopt(one, kept); one.head.focus(); }),
      button("Take the one from here", "second", () => {
        quietly(one, { typed: mine.typed, confirmed: false });
        taken(one);
        read(one); want(one);
      }));
    if (page && !reviewing) one.aside.scrollIntoView({ block: "center" });
  }

  // The answer chosen after a clash counts once it is confirmed: that is said, and can be done, where it was chosen.
  function taken(one) {
    one.taken = true;
    one.clash = false;
    const said = element("p", "said no", `Taken, but not confirmed yet: ${one.counts === null ? "it does not count" : `${words(one.counts)} counts`}`
      + " until you confirm the one from here.", { tabindex: "-1" });
    one.aside.replaceChildren(said, button("Confirm the one from here", "", () => {
      const press = one.panel.querySelector(".rc-confirm");
      if (press.disabled) one.panel.querySelector(".rc-form input")?.focus();  // it cannot be read: there it is said
      else press.click();
    }));
    said.focus();
  }

  async function read(one) {
    if (blank(one.model.get("typed"))) return;
    const asked = (one.asked = (one.asked || 0) + 1), typed = one.model.get("typed");
    try {
      const answer = await post("read", { slot: one.slot, typed });
      if (one.unread && same(now(one), one.sent)) one.model.set({ unsaved: false, saved: told(one.sent) });
      one.unread = false;
      if (asked === one.asked && same(typed, one.model.get("typed"))) {
        one.model.set("reading", answer.reading || { ok: false, shown: answer.said, ask: null });
      }
    } catch {
      one.unread = true;  // read again as soon as the room answers
      one.model.set({ unsaved: true, saved: "The room cannot be reached: what you typed is kept here. Try again in a moment." });
    }
  }

  function stand(one) {
    const { typed, confirmed } = now(one);
    const saved = same(now(one), one.sent) && !one.flying;
    if (confirmed && saved) return "confirmed";
    if (one.counts !== null && !same(typed, one.counts)) return "changed";
    if (one.counts !== null) return "confirmed";
    return blank(typed) ? "empty" : "not confirmed";
  }

  function mark(one) {
    const state = stand(one);
    one.step.replaceChildren(element("strong", "", String(one.slot)), element("span", "", state));
    one.step.setAttribute("aria-label", `Question ${one.slot}, ${state}`);
    one.step.dataset.state = state;
    one.panel.dataset.state = state;
    one.state = state;
    one.model.set("waits", now(one).confirmed && !(same(now(one), one.sent) && !one.flying));
    if (page) count();
    if (page && reviewing) page.open.renew();
    let note = one.panel.querySelector(".counts");
    if (!note) one.panel.append((note = element("p", "counts quiet")));
    note.textContent = state === "changed"
      ? `Your confirmed answer ${words(one.counts)} counts until you confirm the new one.` : "";
  }

  function count() {
    const done = entries.filter((one) => one.state === "confirmed").length;
    page.many.textContent = `All ${entries.length} questions: ${done} confirmed`;
  }

  function go(to) {
    at = Math.max(0, Math.min(entries.length - 1, to));
    reviewing = false;
    show();
    entries[at].head.focus();
    entries[at].head.scrollIntoView({ block: "nearest" });
  }

  function show() {
    entries.forEach((one, index) => {
      one.panel.hidden = reviewing || (!all && index !== at);
      one.step.toggleAttribute("aria-current", !reviewing && !all && index === at);
      if (one.step.hasAttribute("aria-current")) one.step.setAttribute("aria-current", "true");
    });
    page.turn.hidden = reviewing || all;
    page.before.disabled = at === 0;
    page.after.disabled = at === entries.length - 1;
    page.review.hidden = !reviewing;
    page.view.textContent = all ? "Show one question at a time" : "Show all questions";
    page.end.hidden = reviewing;
  }

  function review() {
    reviewing = true;
    moved.clear();
    page.renewed = "";
    show();
    page.told = element("p", "said no", "", { role: "alert", hidden: true });
    page.open = notConfirmed(entries, { stand, go });
    const head = element("h2", "", "Before you hand in", { tabindex: "-1" });
    const back = button("Back to the questions", "second", () => go(at));
    const last = button("Hand in for good", "", () => handIn(last));
    page.review.replaceChildren(head, page.told, page.open.sum, page.open.list,
      element("p", "", "After handing in nothing can be changed."), ended ? last : back, ended ? "" : last);
    head.focus();
    poll();
  }

  const busy = (one) => one.flying || one.wanted || !same(now(one), one.sent);
  const named = (some) => `${some.length > 1 ? "Questions" : "Question"} ${some.map((one) => one.slot).join(", ")}`;
  const were = (some) => `${named(some)} ${some.length > 1 ? "were" : "was"}`;

  // What is typed and not yet on the disk is sent at once; what is still unsaved after three seconds is given back.
  async function unsaved() {
    entries.filter((one) => busy(one) && !one.clash).forEach((one) => { clearTimeout(one.later); want(one); });
    for (let turn = 0; turn < 30 && entries.some((one) => busy(one) && !one.clash); turn += 1) {
      await new Promise((done) => setTimeout(done, 100));
    }
    return entries.filter((one) => busy(one) && !one.clash);
  }

  function tell(text) {
    page.told.textContent = text;
    page.told.hidden = false;
  }

  async function handIn(last) {
    const say = (text) => {
      tell(text);
      page.renewed = "";
      last.disabled = false;
      if (document.activeElement === document.body) last.focus();
      page.told.scrollIntoView({ block: "center" });
    };
    last.disabled = true;
    const open = ended ? [] : await unsaved(), clashing = ended ? [] : entries.filter((one) => one.clash);
    if (clashing.length) {
      return say(`Not handed in: ${were(clashing)} answered in two windows, and the two differ. Open it, choose one, then hand in.`);
    }
    if (open.length) return say(`Not handed in: ${named(open)} ${open.length > 1 ? "are" : "is"} not saved yet, because the room does not answer. This page goes on trying.`);
    const anew = () => {
      const some = [...moved];
      moved.clear();
      say(`Not handed in: ${some.length ? were(some) : "an answer was"} changed in another window since this list was shown. `
        + "It is shown anew: look it over, then press Hand in for good again.");
    };
    await poll();
    if (moved.size) return anew();
    try {
      const seen = Object.fromEntries(entries.filter((one) => one.revision).map((one) => [one.slot, one.revision]));
      const answer = await post("hand-in", { seen });
      if (answer.ok) { net.clear(); return location.reload(); }
      if (answer.conflict) {
        await poll();
        return anew();
      }
      say(answer.said);
    } catch {
      say("The room cannot be reached, so nothing is handed in yet. Your answers are saved: press it again.");
    }
  }

  function over() {
    if (ended) return;
    ended = true;
    review();
    page.news.textContent = "The time is over. What you confirmed counts. Hand in now.";
  }

  async function poll() {
    let answer;
    try { answer = await post("state", { window: data.window }); } catch { return; }
    if (!answer.ok) return;
    if (answer.state.handed_in) { net.clear(); return location.reload(); }
    time.set(answer.state.seconds_left);
    for (const one of entries) {
      const kept = answer.state.answers[one.slot];
      if (kept && kept.revision > one.revision && !busy(one)) adopt(one, kept);
      else if (one.unread) read(one);
    }
    if (reviewing && moved.size) {
      const text = `${were([...moved])} changed in another window since this list was shown: it is shown anew.`;
      if (text !== page.renewed) tell(page.renewed = text);
    }
    const { others, later } = answer.windows;
    page.other.hidden = !others;
    const text = !others ? "" : `This paper is open in ${others === 1 ? "another window" : `${others} other windows`}`
      + ` or on another device${later ? ", which was opened before this one" : ""}. Nothing is lost: each answer is `
      + "saved from either, and shown here after a moment. Go on in one of them and close the rest.";
    if (page.other.textContent !== text) page.other.textContent = text;
  }

  function restore() {
    for (const one of entries) {
      const kept = net.of(one.slot);
      if (!kept || same({ typed: kept.typed, confirmed: kept.confirmed }, one.sent)) { net.drop(one.slot); continue; }
      if (kept.base < one.revision) {
        conflict(one, kept, { revision: one.revision, counts: one.counts, ...one.sent }, "in this browser");
      } else {
        quietly(one, { typed: kept.typed, confirmed: kept.confirmed });
        if (!blank(kept.typed)) read(one);
        want(one);
      }
    }
  }

  restore();
  entries.forEach(mark);
  show();
  entries[0].head.focus();
  poll();
  setInterval(poll, 4000);
  addEventListener("pagehide", () => {
    fetch(`${here}/leave`, { method: "POST", headers: { "Content-Type": "application/json" }, keepalive: true,
      body: JSON.stringify({ window: data.window }) }).catch(() => {});
  });
  addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });
  addEventListener("beforeunload", (event) => {
    if (entries.some((one) => one.flying || one.wanted)) event.preventDefault();
  });
}

if (data.phase === "front") front();
if (data.phase === "sitting") sitting();
if (data.phase === "done") document.getElementById("receipt")?.focus();
