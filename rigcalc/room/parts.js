// Parts of the sitting page: asking the room, elements, the browser's own second net, the clock, what a form takes for its model,
// the page before the start, the list before handing in.

export const blank = (typed) => typed === null || typed === undefined || (typeof typed === "string" ? typed.trim() : typed).length === 0;
export const words = (typed) => (Array.isArray(typed) ? typed.join(", ") : String(typed));
export const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

export const here = location.pathname.replace(/\/$/, "");

export async function post(what, body) {
  const answer = await fetch(`${here}/${what}`, {
    method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), cache: "no-store",
  });
  return { status: answer.status, ...(await answer.json()) };
}

export function element(tag, kind = "", text = "", more = {}) {
  const made = document.createElement(tag);
  if (kind) made.className = kind;
  if (text) made.textContent = text;
  for (const [name, value] of Object.entries(more)) {
    if (value === true) made.setAttribute(name, "");
    else if (value !== false) made.setAttribute(name, value);
  }
  return made;
}

export function button(text, kind, act) {
  const made = element("button", kind, text, { type: "button" });
  made.addEventListener("click", act);
  return made;
}

// What was typed and is not yet confirmed by the room, kept in this browser too. A browser may refuse to keep it.
export function lasting(paper) {
  const name = `sitting ${paper}`;
  const held = (() => { try { return JSON.parse(localStorage.getItem(name)) || {}; } catch { return {}; } })();
  const write = () => { try { localStorage.setItem(name, JSON.stringify(held)); } catch { /* the room's disk is the first net */ } };
  return {
    of: (slot) => held[slot],
    keep: (slot, value) => { held[slot] = value; write(); },
    drop: (slot) => { if (slot in held) { delete held[slot]; write(); } },
    clear: () => { try { localStorage.removeItem(name); } catch { /* nothing was kept */ } },
  };
}

// Minutes left, told in words; the room's own clock sets it right every few seconds.
export function clock(left, place, tell, over) {
  let end = performance.now() + left * 1000, told = Infinity;
  function tick() {
    const seconds = Math.max(0, Math.round((end - performance.now()) / 1000));
    const minutes = Math.ceil(seconds / 60);
    place.textContent = seconds === 0 ? "No time left" : seconds <= 60 ? `${seconds} s left` : `${minutes} min left`;
    for (const mark of [10, 5, 1]) {
      if (minutes <= mark && told > mark) {
        if (told !== Infinity || minutes === mark) tell(`${mark} ${mark === 1 ? "minute" : "minutes"} left.`);
        told = mark;
      }
    }
    if (told === Infinity) told = 1000;
    if (seconds === 0) over();
  }
  setTimeout(tick, 0);
  setInterval(tick, 1000);
  return { set: (seconds) => { if (Number.isInteger(seconds)) end = performance.now() + seconds * 1000; } };
}

// What a form sees in place of a notebook's model: get, set, save, on.
export class Model {
  constructor(fields) { this.fields = fields; this.heard = {}; }
  get(name) { return this.fields[name]; }
  set(name, value) {
    const given = typeof name === "object" ? name : { [name]: value };
    const changed = Object.keys(given).filter((key) => JSON.stringify(this.fields[key]) !== JSON.stringify(given[key]));
    for (const key of changed) this.fields[key] = given[key];
    for (const key of changed) for (const tell of [...(this.heard[`change:${key}`] || [])]) tell(this, given[key]);
  }
  save_changes() { this.host?.(); }
  save() { this.host?.(); }
  on(name, tell) { (this.heard[name] ||= []).push(tell); }
  off(name, tell) { this.heard[name] = tell ? (this.heard[name] || []).filter((one) => one !== tell) : []; }
}

// The page before the start.
export function front() {
  const start = document.getElementById("start"), said = document.getElementById("said");
  start.addEventListener("click", async () => {
    start.disabled = true;
    try {
      const answer = await post("start", {});
      if (answer.ok) return location.reload();
      said.textContent = answer.said;
    } catch {
      said.textContent = "The room cannot be reached. Press Start again; if it stays so, call the assessor.";
    }
    said.hidden = false;
    start.disabled = false;
  });
  start.focus();
}

// The questions that are not confirmed, each with its reason; drawn anew only where it says something else than before.
export function notConfirmed(entries, { stand, go }) {
  const sum = element("p"), list = element("ul");
  let shown = null;

  function why(one) {
    const reading = one.model.get("reading");
    const said = { empty: "no answer", changed: `changed since you confirmed; ${words(one.counts)} counts`,
      "not confirmed": reading && reading.shown && !reading.ok ? "cannot be read, so it is not confirmed and does not count"
        : "answered, but not confirmed: it does not count" }[stand(one)];
    return said + (one.clash ? "; answered in two windows" : "");
  }

  function renew() {
    const open = entries.filter((one) => stand(one) !== "confirmed");
    const rows = open.map((one) => `${one.slot} ${why(one)}`).join("\n");
    if (rows === shown) return;
    shown = rows;
    const held = list.contains(document.activeElement) ? document.activeElement.textContent : "";
    sum.textContent = open.length ? `${entries.length - open.length} of ${entries.length} questions are confirmed. Not so:`
      : `All ${entries.length} questions are confirmed.`;
    list.replaceChildren(...open.map((one) => {
      const item = element("li");
      item.append(button(`Question ${one.slot}`, "link", () => go(entries.indexOf(one))), `: ${why(one)}`);
      return item;
    }));
    const links = [...list.querySelectorAll("button")];
    if (held) (links.find((link) => link.textContent === held) || links[0])?.focus();
  }

  renew();
  return { sum, list, renew };
}
