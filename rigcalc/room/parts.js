// Small parts of the sitting page: elements, the browser's own second net, the clock.

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
