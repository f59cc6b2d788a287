/* Taps: kept on this device until the saving computer says that they are on its disk. */
const form = JSON.parse(document.getElementById("form-data").textContent);
const opened = JSON.parse(document.getElementById("saved-data").textContent);

const taps = (() => {
  const prefix = `bench:${form.form_id}:`;
  const mine = prefix + hex(8);
  const url = location.pathname.replace(/\/+$/, "") + "/save";
  let onDisk = opened.events.slice();
  const lines = { ...opened.lines };
  let waiting = [];
  let since = opened.since || "";
  let sending = false, offline = false, shut = false, leaving = false, lastSaved = "", told = "", retry = 0, changed = () => {};

  function hex(bytes) {
    return Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (b) => b.toString(16).padStart(2, "0")).join("");
  }
  /* The mark that words are saved with, so that it can be told from which device each came. */
  const device = (() => {
    const made = hex(2);
    try {
      const known = localStorage.getItem("bench-device") || made;
      localStorage.setItem("bench-device", known);
      return known;
    } catch { return made; }
  })();
  function kept() {
    // What an earlier page of this device could not send is taken over; a tap sent twice is saved once.
    try {
      const found = [];
      for (const key of Object.keys(localStorage).filter((k) => k.startsWith(prefix))) {
        found.push(...JSON.parse(localStorage.getItem(key)));
        localStorage.removeItem(key);
      }
      return found;
    } catch { return []; }
  }
  function keep() {
    try {
      if (waiting.length) localStorage.setItem(mine, JSON.stringify(waiting));
      else localStorage.removeItem(mine);
    } catch { told = "This device keeps nothing for later: do not reload before the screen says saved."; }
  }
  function number() {
    let next = onDisk.length ? onDisk[onDisk.length - 1].revision : 0;
    const known = new Set(onDisk.map((e) => e.id));
    waiting = waiting.filter((e) => !known.has(e.id)).map((e) => ({ ...e, revision: ++next }));
    keep();
  }
  function all() { return onDisk.concat(waiting); }
  function live() {
    const undone = new Set(all().filter((e) => e.kind === "undone").map((e) => e.undoes));
    return all().filter((e) => e.kind !== "undone" && !undone.has(e.id));
  }
  /* What is sent by itself leaves standing what was told: nobody has tapped it away. */
  function add(event, byItself = false) {
    const last = all().at(-1);
    waiting.push({ id: hex(12), revision: (last ? last.revision : 0) + 1, at: new Date().toISOString(), ...event });
    if (!byItself) told = "";
    keep();
    changed();
    send();
  }
  /* Words that were sent while they were typed are one writing, taken back in one. */
  function undo() {
    const last = live().at(-1);
    for (let e = last; e && (e.id === last.id || (e.stay && e.stay === last.stay)); e = live().at(-1)) add({ kind: "undone", candidate: e.candidate, undoes: e.id });
  }
  async function send() {
    if (sending || !waiting.length) return;
    sending = true;
    clearTimeout(retry);
    const first = waiting[0];
    try {
      const answer = await fetch(url, { method: "POST", headers: { "Content-Type": "application/json" },
        body: JSON.stringify(first), keepalive: leaving || document.visibilityState === "hidden", signal: AbortSignal.timeout(8000) });
      shut = answer.status === 404;
      take(first, answer.status, await answer.json());
      offline = false;
    } catch { offline = true; }
    sending = false;
    keep();
    changed();
    if (offline) retry = setTimeout(send, 2000);
    else send();
  }
  function take(event, status, reply) {
    if (reply.saved) {
      waiting = waiting.filter((e) => e.id !== event.id);
      onDisk.push({ ...event, saved_at: reply.saved_at });
      lastSaved = reply.saved_at;
      if (reply.line) lines[lineOf(event)] = reply.line;
      if ("since" in reply) since = reply.since;
    } else if (status === 409) {
      const known = new Set(all().map((e) => e.id));
      const others = reply.events.filter((e) => !known.has(e.id) && e.kind === "wrote" && !e.item && e.words.trim());
      onDisk = reply.events;
      number();
      told = "Another page saved on this form too; its taps are taken in." + others.map(elsewhere).join("");
    } else if ((status === 400 || status === 413) && reply.say) {
      waiting = waiting.filter((e) => e.id !== event.id);
      number();
      told = reply.say;
    } else throw new Error("no answer from the saving computer");
  }
  /* Words that another page saved meanwhile: told on this one, also where words of this page take their place. */
  function elsewhere(other) {
    const mine = waiting.filter((e) => e.kind === "wrote" && sameBox(e, other)).at(-1);
    return ` Words of another page stand there: "${other.words.trim()}".` + (!mine || plain(mine.words).startsWith(plain(other.words)) ? ""
      : " Yours take their place now; both are kept and told to whoever decides. Write all that holds into the box.");
  }
  function tell(words) { told = words; changed(); }
  /* The line of a tap, or of the tap that an undo takes back. */
  function lineOf(event) {
    const meant = all().find((e) => e.id === event.undoes) || event;
    return `${meant.candidate}|${meant.piece || 0}|${meant.item}`;
  }
  /* A verdict is one on what is saved: none while a tap on its line is not. */
  function line(c, p, k) {
    const key = `${c}|${p}|${k}`;
    return waiting.some((e) => lineOf(e) === key) ? undefined : lines[key];
  }
  function say() {
    if (shut) return { kind: "no", text: `Not saved: this form's address is closed, as where it was set aside at the desk. ${waiting.length} kept on this device. Tap no more; ask whoever opened it.` };
    if (offline) return { kind: "no", text: `Not saved yet: ${waiting.length} kept on this device. Go on; it is sent again by itself.` };
    if (waiting.length) return { kind: "no", text: `Not saved yet: ${waiting.length}` };
    if (!onDisk.length) return { kind: "", text: "No tap yet" };
    return { kind: "ok", text: `Saved: all ${onDisk.length}` + (lastSaved ? `, ${clock(lastSaved)}` : "") };
  }
  function clock(iso) { return new Date(iso).toTimeString().slice(0, 8); }

  waiting = kept();
  number();
  window.addEventListener("online", send);
  window.addEventListener("pagehide", () => { leaving = true; });
  window.addEventListener("pageshow", () => { leaving = false; });
  return { add, undo, all, live, say, send, told: () => told, tell, since: () => since, device, mark: () => hex(6), clock, line,
    onChange: (f) => { changed = f; }, unsaved: () => waiting.length };
})();

const plain = (words) => words.trim().split(/\s+/).join(" ");
const sameBox = (one, other) => one.candidate === other.candidate && !one.item && !other.item && (one.about || "") === (other.about || "");

/* What stands on each line, read from the taps that still stand. */
const read = {
  last(kind, candidate, piece, key, also = () => true) {
    return taps.live().filter((e) => e.kind === kind && e.candidate === candidate && (e.piece || 0) === piece && e.item === key && also(e)).at(-1);
  },
  presses(candidate, piece, key, crimp) {
    return [1, 2].map((n) => this.last("gauged", candidate, piece, key, (e) => e.crimp === crimp && e.press === n));
  },
  failedTwice(candidate, piece, item) {
    return item.kind === "gauge" && Array.from({ length: item.crimps }, (_, n) => this.presses(candidate, piece, item.key, n + 1))
      .some(([one, two]) => one && !one.passed && two && !two.passed);
  },
  scrapped(candidate, piece) {
    return form.stages.some((s) => s.items.some((i) => this.failedTwice(candidate, piece, i)));
  },
  rejected(candidate) { return taps.live().filter((e) => e.kind === "rejected" && e.candidate === candidate); },
  piece(candidate) { return Math.min(this.rejected(candidate).length + 1, form.issue ? form.issue.pieces : 1); },
  words(candidate, about) { return taps.live().filter((e) => e.kind === "wrote" && sameBox(e, { candidate, about })).at(-1); },
  /* Words that others took the place of, oldest first; a text that begins with the one before replaces nothing. */
  replaced(candidate, about) {
    const stand = new Set(taps.live().map((e) => e.id)), found = [];
    const wrote = taps.all().filter((one) => one.kind === "wrote" && sameBox(one, { candidate, about }));
    const stillTyped = (e, n) => e.stay && wrote[n + 1]?.stay === e.stay && stand.has(wrote[n + 1].id) === stand.has(e.id);
    for (const e of wrote.filter((one, n) => !stillTyped(one, n))) {
      const words = plain(e.words), last = found.at(-1), back = !stand.has(e.id);
      if (last ? words === last.words && !last.back : !words) {
        if (last && !back) last.id = e.id;
        continue;
      }
      if (last && (words === last.words || (last.words && words.startsWith(last.words)))) found.pop();
      found.push({ words, back, id: e.id, at: e.saved_at || e.at, device: e.device });
    }
    return found.filter((one) => one.words && one.id !== this.words(candidate, about)?.id && (one.back || found.length > 1));
  },
  toolStopped() { return form.candidates.find((c) => Array.from({ length: this.piece(c.id) }, (_, n) => n + 1).some((p) => this.scrapped(c.id, p))); },
  method(candidate) {
    const item = form.stages.flatMap((s) => s.items).find((i) => i.kind === "choose" && i.choices.includes("section"));
    return item && this.last("chose", candidate, 0, item.key)?.choice;
  },
  applies(candidate, piece, stage, item) {
    if (item.when === "pull" || item.when === "section") return this.method(candidate) === item.when;
    if (item.when === "second failure") return stage.items.some((i) => this.failedTwice(candidate, piece, i));
    return true;
  },
  filled(candidate, piece, item) {
    const live = taps.live().filter((e) => e.candidate === candidate && (e.piece || 0) === piece && e.item === item.key);
    if (item.kind === "measure") return new Set(live.map((e) => e.part)).size === item.limit.parts.length;
    if (item.kind === "gauge") return Array.from({ length: item.crimps }, (_, n) => this.presses(candidate, piece, item.key, n + 1)).every(([one, two]) => one && (one.passed || two));
    if (item.kind === "calls") return form.set.pieces.every((n) => { const e = live.filter((x) => x.number === n).at(-1); return e && (e.call === "pass" || e.cause); });
    if (item.kind === "count") return new Set(live.map((e) => e.material + e.which)).size === form.issue.material.length * (item.counts === "out" ? 1 : 2);
    if (item.kind === "write") return Boolean(live.at(-1)?.words.trim()) && taps.line(candidate, piece, item.key)?.state !== "none";
    return live.length > 0;
  },
};
