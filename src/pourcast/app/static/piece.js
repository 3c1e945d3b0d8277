// The page of a piece with scripts on: knobs post after a short rest, and only what moved is
// put into the page.  Without this file the same forms post and the page comes back at the row.
"use strict";
(() => {
  const root = document.getElementById("piece");
  if (!root) return;
  const path = root.dataset.piece;
  const REST = 400;
  const HELD = 250;
  const LOOK = 2500;
  const SOON = 800;
  const waits = new Map();
  let asked = 0;
  let stream = null;
  const working = document.getElementById("p-working");

  // Put the parts of a page that came back into this one; the field in hand is left alone.
  function take(text) {
    const page = new DOMParser().parseFromString(text, "text/html");
    if (!page.getElementById("piece")) {
      document.location.assign(path);
      return;
    }
    for (const part of page.querySelectorAll("[data-part]")) {
      const old = document.getElementById(part.id);
      if (!old || old.outerHTML === part.outerHTML) continue;
      const open = [...old.querySelectorAll("details")].map((each) => each.open);
      old.replaceWith(part);
      part.querySelectorAll("details").forEach((each, k) => { each.open = open[k] || false; });
    }
    for (const field of page.querySelectorAll(".knob-f input[data-said], .knob-f select[data-said]")) {
      const old = document.getElementById(field.id);
      if (!old) continue;
      const same = old.value === old.dataset.said || old !== document.activeElement;
      old.dataset.said = field.dataset.said;
      old.toggleAttribute("aria-invalid", field.hasAttribute("aria-invalid"));
      if (same && !waits.has(old.form) && !field.hasAttribute("aria-invalid")) old.value = field.dataset.said;
    }
    document.title = page.title;
    offerCells();
    document.dispatchEvent(new CustomEvent("piece:moved"));
    listen();
  }

  async function send(form, data) {
    const mine = ++asked;
    close();
    form.setAttribute("aria-busy", "true");
    working.textContent = root.dataset.working;
    try {
      const answer = await fetch(form.action, {
        method: "POST",
        body: new URLSearchParams(data),
        headers: { accept: "text/html" },
      });
      const text = await answer.text();
      if (mine === asked) take(text);
    } catch {
      // The line is down: the form itself still posts when it is back.
      if (mine === asked) listen();
    } finally {
      form.removeAttribute("aria-busy");
      if (mine === asked) working.textContent = "";
    }
  }

  function wait(form, field, rest) {
    clearTimeout(waits.get(form));
    waits.set(form, setTimeout(() => {
      waits.delete(form);
      if (field.value.trim() === field.dataset.said) return;
      const data = new FormData(form);
      data.set("by", "0");
      send(form, data);
    }, rest));
  }

  // One step on from what stands in the field, as the program would count it.
  function stepped(field, by) {
    const step = Number(field.dataset.step);
    const now = Number(field.value.replace(",", "."));
    if (field.value.trim() === "" || Number.isNaN(now)) return null;
    let steps = Math.round((now / step) * 1e6) / 1e6 + by;
    if (Math.abs(steps - Math.round(steps)) < 1e-3) steps = Math.round(steps);
    const low = Number(field.dataset.low) >= 0 ? 0 : Number(field.dataset.low);
    return String(Number(Math.max(steps * step, low).toPrecision(4)));
  }

  root.addEventListener("input", (event) => {
    const form = event.target.closest(".knob-f");
    if (form) wait(form, event.target, REST);
  });
  root.addEventListener("change", (event) => {
    const form = event.target.closest(".knob-f");
    if (form) wait(form, event.target, REST);
  });
  root.addEventListener("keydown", (event) => {
    const field = event.target;
    if (!field.matches(".knob-f input[data-step]")) return;
    const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!by) return;
    const value = stepped(field, by);
    if (value === null) return;
    event.preventDefault();
    field.value = value;
    wait(field.form, field, REST);
  });
  root.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.matches(".knob-f")) {
      event.preventDefault();
      const by = Number((event.submitter && event.submitter.value) || 0);
      const field = form.elements.value;
      const value = by ? stepped(field, by) : null;
      if (value !== null) {
        field.value = value;
        wait(form, field, HELD);
      } else if (by) {
        send(form, { ...Object.fromEntries(new FormData(form)), by: String(by) });
      } else {
        wait(form, field, 0);
      }
    } else if (form.matches("[data-act]")) {
      if (form.action.endsWith("/keep")) return;
      event.preventDefault();
      // Leaving a field for this button is no new turn of its knob.
      for (const timer of waits.values()) clearTimeout(timer);
      waits.clear();
      send(form, new FormData(form));
    }
  });

  // The stream is open only while the page is in sight and the answer is not whole yet.
  function listen() {
    close();
    const head = document.getElementById("p-head");
    if (document.hidden || !head || head.dataset.refined === "1") return;
    stream = new EventSource(`${path}/progress`);
    for (const name of ["refined", "failed", "late"]) {
      stream.addEventListener(name, () => {
        close();
        refresh();
      });
    }
  }
  // What to change first grows behind the page; it is looked at every few seconds.
  async function lookAtFirst() {
    const part = document.getElementById("p-first");
    if (document.hidden || !part || part.dataset.complete === "1") return;
    if (document.getElementById("p-head").dataset.refined !== "1") return;
    const mine = asked;
    try {
      const answer = await fetch(part.dataset.src, { headers: { accept: "text/html" } });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const found = page.getElementById("p-first");
      const here = document.getElementById("p-first");
      if (!answer.ok || !found || !here || mine !== asked) return;
      if (here.outerHTML !== found.outerHTML && !here.contains(document.activeElement)) here.replaceWith(found);
    } catch {
      // Not joined just now; the next look asks again.
    }
  }
  setInterval(lookAtFirst, LOOK);

  // A casting in cells can be turned round once it is there, and no longer when the plan moved.
  function offerCells() {
    const part = document.getElementById("p-cells");
    const way = document.getElementById("way-cells");
    if (!part || !way) return;
    way.hidden = part.dataset.state !== "done";
    const field = way.querySelector("input");
    if (way.hidden && field.checked) {
      const first = way.parentElement.querySelector("input");
      first.checked = true;
      first.dispatchEvent(new Event("change", { bubbles: true }));
    }
  }
  async function lookAtCells() {
    const part = document.getElementById("p-cells");
    if (document.hidden || !part || part.dataset.state !== "working") return;
    const mine = asked;
    try {
      const answer = await fetch(part.dataset.src, { headers: { accept: "text/html" } });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const found = page.getElementById("p-cells");
      const here = document.getElementById("p-cells");
      if (!answer.ok || !found || !here || mine !== asked) return;
      if (here.outerHTML !== found.outerHTML) here.replaceWith(found);
      offerCells();
    } catch {
      // Not joined just now; the next look asks again.
    }
  }
  setInterval(lookAtCells, SOON);

  function close() {
    if (stream) stream.close();
    stream = null;
  }
  async function refresh() {
    const mine = asked;
    try {
      const answer = await fetch(path, { headers: { accept: "text/html" } });
      const text = await answer.text();
      if (answer.ok && mine === asked && waits.size === 0) take(text);
    } catch {
      // Not joined just now; the next look asks again.
    }
  }
  document.addEventListener("visibilitychange", () => (document.hidden ? close() : listen()));
  window.addEventListener("pagehide", close);
  window.addEventListener("pageshow", (event) => { if (event.persisted) refresh(); });

  // A link to a knob opens the line it stands under and takes the reader to its field.
  root.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-to]");
    if (!link) return;
    const field = document.getElementById(link.dataset.to);
    if (!field) return;
    event.preventDefault();
    const folded = field.closest("details");
    if (folded) folded.open = true;
    field.scrollIntoView({ block: "center" });
    field.focus({ preventScroll: true });
  });

  const ways = document.getElementById("ways");
  if (ways) {
    ways.hidden = false;
    ways.addEventListener("change", async () => {
      const scene = document.getElementById("scene");
      const way = ways.querySelector("input:checked").value;
      const drawn = await import(scene.dataset.script);
      await drawn.show(scene, way);
    });
  }
  listen();
})();
