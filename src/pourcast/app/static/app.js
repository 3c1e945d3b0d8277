// What every page does with scripts on.  Each page works without it.
"use strict";

document.documentElement.classList.add("scripted");

// A phone that was pointed at the picture carries the secret behind #, which is never sent by itself.
function joinFromPicture() {
  const form = document.getElementById("join");
  const secret = location.hash.slice(1);
  if (!form || !secret) return;
  form.elements.code.value = secret;
  history.replaceState(null, "", location.pathname);
  form.requestSubmit();
}

// The line that says whether what was typed is kept.
function tellKept(event) {
  const line = document.getElementById("kept");
  if (!line || !event.detail.elt || !event.detail.elt.closest("form.draft")) return;
  line.textContent = event.detail.successful ? line.dataset.kept : line.dataset.lost;
  line.classList.toggle("warn", !event.detail.successful);
}

document.addEventListener("DOMContentLoaded", joinFromPicture);
document.addEventListener("htmx:afterRequest", tellKept);
document.addEventListener("htmx:sendError", tellKept);

// A sheet that could not be kept is sent again until it is.
let waiting = 0;
function sendAgain() {
  const form = document.getElementById("sheet");
  clearTimeout(waiting);
  if (form && window.htmx) waiting = setTimeout(() => window.htmx.trigger(form, "again"), 4000);
}
document.addEventListener("htmx:sendError", sendAgain);
