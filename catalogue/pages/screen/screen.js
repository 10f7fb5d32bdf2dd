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
