"use strict";
// A view is loaded again when the files of the range change, unless something was
// entered in it that is not sent: then it says so.
{
  const since = new URL(document.currentScript.src).search;
  const notice = document.createElement("p");
  notice.setAttribute("role", "status");
  document.querySelector("main").prepend(notice);
  let entered = false;
  let source;
  addEventListener("input", () => { entered = true; });
  const follow = () => {
    source?.close();
    if (document.hidden) return; // a browser asks one server a few things at a time
    source = new EventSource("./changes" + since);
    source.onmessage = (event) => {
      source.close();
      if (!entered) {
        location.reload();
        return;
      }
      const again = document.createElement("a");
      again.href = location.href;
      again.textContent = event.data;
      notice.replaceChildren(again);
    };
  };
  document.addEventListener("visibilitychange", follow);
  follow();
}

// F2 turns showing to a customer on and off.
addEventListener("keydown", (event) => {
  if (event.key === "F2") document.querySelector('a[href^="./show"]')?.click();
});

// What is set in a trial is worked out at once: the page that the form leads to is
// fetched, and what of it is marked to be shown anew replaces what is shown. One request
// is under way at a time, and the last setting is never left out.
{
  const form = document.getElementById("try");
  let asking = false;
  let again = false;
  const show = (page) => {
    for (const part of page.querySelectorAll("[data-anew]")) {
      const shown = document.getElementById(part.id);
      if (shown && !shown.contains(document.activeElement)) shown.replaceWith(part);
    }
    for (const field of page.querySelectorAll("#try .field")) {
      const input = field.querySelector("[id]");
      const shown = document.getElementById(input.id);
      const fault = field.querySelector(".fault");
      shown.parentElement.querySelector(".fault")?.remove();
      shown.toggleAttribute("aria-invalid", Boolean(fault));
      shown.removeAttribute("aria-describedby");
      if (fault) {
        shown.setAttribute("aria-describedby", fault.id);
        shown.parentElement.append(fault);
        shown.closest("details")?.setAttribute("open", "");
      }
    }
    reveal();
  };
  const ask = async () => {
    if (asking) {
      again = true;
      return;
    }
    asking = true;
    try {
      do {
        again = false;
        const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)) });
        show(new DOMParser().parseFromString(await answer.text(), "text/html"));
      } while (again);
    } finally {
      asking = false;
    }
  };
  const reveal = () => {
    for (const handle of document.querySelectorAll(".handles input")) handle.hidden = false;
  };
  if (form) {
    reveal();
    addEventListener("input", (event) => {
      const { field, unit } = event.target.dataset;
      if (field) form.elements[field].value = `${event.target.value} ${unit}`;
      else if (event.target.form !== form) return;
      else {
        for (const handle of document.querySelectorAll(".handles input")) {
          if (handle.dataset.field === event.target.name && parseFloat(event.target.value) >= 0 && event.target.value.endsWith(` ${handle.dataset.unit}`)) {
            handle.value = parseFloat(event.target.value);
          }
        }
      }
      ask();
    });
  }
}
