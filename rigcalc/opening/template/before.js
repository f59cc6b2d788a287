// Runs before the page is drawn, so that a projector page does not jump in size.
(function () {
  const address = new URLSearchParams(location.search), asked = address.has("notes") ? "0" : address.get("projector"); // notes are no wall's
  if (asked !== null) { sessionStorage.setItem("projector", asked === "0" ? "" : "1"); }
  if (sessionStorage.getItem("projector")) { document.documentElement.classList.add("projector"); }
  // Voilà calls these while it runs a page; this template says how far it is in its own way.
  window.voila_heartbeat = window.voila_process = window.voila_finish = function () {};
})();
