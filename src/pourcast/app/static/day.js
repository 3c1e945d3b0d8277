// Kiln day: step keys, and entries that wait on this phone while the laptop is out of reach.
"use strict";

{

const room = document.getElementById("day");
const STORE = "pourcast-day-" + (room ? room.dataset.pour : "");
const RETRY = 5000;

function waiting() {
  try {
    return JSON.parse(localStorage.getItem(STORE)) || [];
  } catch {
    return [];
  }
}

function keep(list) {
  localStorage.setItem(STORE, JSON.stringify(list));
}

// Each entry has its own key, so that one that is sent twice counts once.
function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function tellLost(list) {
  const line = document.getElementById("lost");
  if (!line) return;
  line.hidden = list.length === 0;
  if (list.length === 0) return;
  const since = new Date(1000 * Number(list[0].at));
  const time = since.toTimeString().slice(0, 5);
  line.textContent = line.dataset.say.replace("{time}", time).replace("{number}", String(list.length));
}

// What was not kept is told where the caster looks, and stays there until something is kept.
function tellRefused(told) {
  const line = document.getElementById("fault");
  if (line) line.textContent = told && [line.textContent, told].filter(Boolean).join(" ");
}

async function sendWaiting() {
  let list = waiting();
  while (list.length > 0) {
    const token = document.querySelector("meta[name=form-token]").content;
    let answer;
    try {
      answer = await fetch(`/day/${room.dataset.pour}/entry`, {
        method: "POST",
        headers: { "x-form-token": token, "hx-request": "true" },
        body: new URLSearchParams(list[0]),
      });
    } catch {
      break;
    }
    if (answer.status >= 500) break;
    if (answer.status === 422) {
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      tellRefused(page.body.textContent.trim());
    }
    list = waiting().slice(1);
    keep(list);
  }
  tellLost(list);
  if (list.length > 0) setTimeout(sendWaiting, RETRY);
  else if (window.htmx) window.htmx.trigger("#now", "refresh");
}

function stamp(event) {
  const form = event.detail.elt.closest ? event.detail.elt.closest("form") : null;
  if (!form || event.detail.verb !== "post") return;
  event.detail.parameters.key = newKey();
  event.detail.parameters.at = String(Math.round(Date.now() / 1000));
}

function notSent(event) {
  const asked = event.detail.requestConfig;
  if (!asked || asked.verb !== "post") return;
  const fields = {};
  const data = asked.formData || asked.parameters;
  const pairs = data instanceof FormData ? data.entries() : Object.entries(data);
  for (const [name, value] of pairs) if (name !== "token") fields[name] = String(value);
  keep([...waiting(), fields]);
  tellLost(waiting());
  setTimeout(sendWaiting, RETRY);
}

// What is kept leaves its boxes: a time ago or a line would else go with the next act as well.
function entered(event) {
  const asked = event.detail.requestConfig;
  if (!asked || asked.verb !== "post" || event.detail.xhr.status >= 300) return;
  tellRefused("");
  const form = event.detail.elt.closest("form");
  if (form)
    for (const box of form.querySelectorAll("[name=line],[name=setting],[name=ago]")) box.value = "";
}

function stepBy(event) {
  const button = event.target.closest("[data-by]");
  const field = document.getElementById("r");
  if (!button || !field) return;
  const here = Number(field.value.replace(",", "."));
  if (Number.isFinite(here)) field.value = String(Math.round(here + Number(button.dataset.by)));
}

// The day once more: a slider over the log; it runs of itself only where motion is welcome.
const RUN_EVERY = 900;
const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
let running = 0;

function tellSince() {
  const slider = document.getElementById("since");
  const minutes = Math.round(Number(slider.value) / 60);
  const said = slider.dataset.say
    .replace("{hours}", String(Math.floor(minutes / 60)))
    .replace("{minutes}", String(minutes % 60).padStart(2, "0"));
  slider.setAttribute("aria-valuetext", said);
}

function moveSince(by) {
  const slider = document.getElementById("since");
  const before = slider.value;
  slider.value = String(Number(slider.value) + by * Number(slider.step));
  if (slider.value === before) return false;
  slider.dispatchEvent(new Event("input", { bubbles: true }));
  return true;
}

function run(on) {
  const button = document.getElementById("play");
  clearInterval(running);
  running = 0;
  if (on) running = setInterval(() => moveSince(3) || run(false), RUN_EVERY);
  button.setAttribute("aria-pressed", String(on));
}

function playAgain() {
  const slider = document.getElementById("since");
  if (!slider) return;
  const button = document.getElementById("play");
  button.hidden = calm.matches;
  calm.addEventListener("change", () => {
    run(false);
    button.hidden = calm.matches;
  });
  slider.addEventListener("input", tellSince);
  button.addEventListener("click", () => {
    if (running === 0 && Number(slider.value) >= Number(slider.max)) slider.value = "0";
    run(running === 0);
  });
  document.querySelectorAll("[data-move]").forEach((each) =>
    each.addEventListener("click", () => {
      run(false);
      moveSince(Number(each.dataset.move));
    }),
  );
  document.getElementById("again").addEventListener("toggle", (event) => {
    run(false);
    if (event.target.open && !document.querySelector("#then svg"))
      slider.dispatchEvent(new Event("input", { bubbles: true }));
  });
  tellSince();
}

if (room) {
  playAgain();
  document.querySelectorAll(".steps").forEach((each) => (each.hidden = false));
  document.addEventListener("click", stepBy);
  document.body.addEventListener("htmx:configRequest", stamp);
  document.body.addEventListener("htmx:sendError", notSent);
  document.body.addEventListener("htmx:afterRequest", entered);
  tellLost(waiting());
  if (waiting().length > 0) sendWaiting();
}
}
