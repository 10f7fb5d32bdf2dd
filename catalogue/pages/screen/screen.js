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

// The verdict of each model that is in view is asked for, one after the other, and said
// where a link leads to its review.
{
  let last = Promise.resolve();
  const seen = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target } of entries) {
      if (!isIntersecting) continue;
      seen.unobserve(target);
      last = last.then(async () => {
        const answer = await fetch(target.href.replace("/review?", "/verdict?"));
        if (answer.ok) target.textContent = await answer.text();
      }).catch(() => {}); // the page goes, or nobody answers any more: the link stays
    }
  });
  if (location.pathname === "/") for (const link of document.querySelectorAll('td a[href^="./review?"]')) seen.observe(link);
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
  let dragged = false;
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
  const ask = async (goesOn) => {
    dragged = Boolean(goesOn);
    if (asking) {
      again = true;
      return;
    }
    asking = true;
    try {
      do {
        again = false;
        const data = new URLSearchParams(new FormData(form));
        if (dragged) data.set("dragged", "");
        let answer;
        if (form.dataset.ask) {
          data.delete("token");
          answer = await fetch(`${form.dataset.ask}?${data}`);
        } else answer = await fetch(form.action, { method: "POST", body: data });
        show(new DOMParser().parseFromString(await answer.text(), "text/html"));
      } while (again);
    } finally {
      asking = false;
    }
  };
  // What bends is drawn from the shapes that came with the page, between two of them;
  // the server is asked where it comes to rest.
  const points = (path) => { // of data with ways from one to the next
    const list = [];
    let [x, y, command] = [0, 0, ""];
    const parts = path.match(/[Mhvl]|-?\d*\.?\d+/g);
    while (parts.length > 0) {
      if (/[Mhvl]/.test(parts[0])) command = parts.shift();
      if (command !== "v") x += Number(parts.shift());
      if (command !== "h") y += Number(parts.shift());
      list.push([x, y]);
    }
    return list;
  };
  const places = 60; // along a shape, so that one goes over into another with as many corners or fewer
  const even = (list) => {
    const far = [0];
    for (let i = 1; i < list.length; i++) far.push(far[i - 1] + Math.hypot(list[i][0] - list[i - 1][0], list[i][1] - list[i - 1][1]));
    let i = 1;
    return Array.from({ length: places }, (_, k) => {
      const at = far.at(-1) * k / (places - 1);
      while (i < list.length - 1 && far[i] < at) i++;
      if (list.length < 2) return list[0];
      const share = far[i] > far[i - 1] ? Math.min(1, (at - far[i - 1]) / (far[i] - far[i - 1])) : 0;
      return [0, 1].map((axis) => list[i - 1][axis] + share * (list[i][axis] - list[i - 1][axis]));
    });
  };
  let moving; // to which value, in the next frame
  const move = (input) => {
    const shown = document.querySelector(`[data-moved-by="${input.name}"]`);
    if (!shown) return false;
    const drawn = () => {
      const at = moving;
      moving = undefined;
      const { loads, frames, moves, id } = shown.moves ??= JSON.parse(shown.dataset.moves);
      const i = Math.min(Math.max(loads.findIndex((load) => load >= at), 1), loads.length - 1);
      const share = (at - loads[i - 1]) / (loads[i] - loads[i - 1]);
      moves.forEach((path, n) => {
        const [from, to] = [frames[i - 1], frames[i]].map((frame) => points(frame.data[n]));
        const [a, b] = from.length === to.length ? [from, to] : [even(from), even(to)];
        document.getElementById(path).setAttribute("d", "M" + a.map((one, k) => one.map((v, axis) => (v + share * (b[k][axis] - v)).toFixed(2)).join(" ")).join("L"));
      });
      const label = document.getElementById(id);
      for (const axis of ["x", "y"]) label.setAttribute(axis, frames[i - 1][axis] + share * (frames[i][axis] - frames[i - 1][axis]));
      label.textContent = "";
    };
    if (moving === undefined) requestAnimationFrame(drawn);
    moving = Number(input.value);
    return true;
  };
  const reveal = () => {
    for (const handle of document.querySelectorAll(".handles input")) handle.hidden = false;
  };
  if (form) {
    reveal();
    addEventListener("input", (event) => {
      const said = event.target.nextElementSibling;
      if (said?.localName === "output") said.value = event.target.value;
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
      if (!move(event.target)) ask(true);
    });
    addEventListener("change", (event) => {
      if (event.target.form === form || event.target.dataset.field) ask();
    });
  }
}

// Positions on a photograph: two marks, then points of the bend, in pixels of the
// picture as it is shown. They are moved by a pointer or the arrow keys, and taken away
// by Delete. The picture itself goes nowhere.
{
  const photo = document.getElementById("photo");
  const form = document.getElementById("try");
  const svg = (name, attributes) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return made;
  };
  const metres = (text) => {
    const [, number, unit] = /^\s*(-?[\d.]+)\s*(mm|cm|m|in)\b/.exec(text) ?? [];
    return number * { mm: 1e-3, cm: 1e-2, m: 1, in: 25.4e-3 }[unit];
  };
  if (photo) {
    const board = photo.querySelector(".board");
    const image = new Image();
    const layer = svg("svg", {});
    image.alt = "";
    board.append(image, layer);
    let at = []; // the marks first
    let held = -1;
    const positions = (list) => list.map((one) => one.map((v) => v.toFixed(1).replace(/\.0$/, "")).join(",")).join(" ");
    const over = () => {
      const places = document.getElementById("over").dataset.places.split(" ").map((pair) => pair.split(",").map(Number));
      const apart = metres(form.elements.apart.value);
      const from = metres(form.elements.from.value || "0 mm");
      if (at.length < 2 || !(apart > 0) || places.length < 2) return "";
      const along = [(at[1][0] - at[0][0]) / apart, (at[1][1] - at[0][1]) / apart];
      const side = along[0] < 0 ? -1 : 1;
      return places.map(([x, y]) => [at[0][0] + (x - from) * along[0] - side * y * along[1], at[0][1] + (x - from) * along[1] + side * y * along[0]].join(",")).join(" ");
    };
    const draw = () => {
      const focused = [...layer.querySelectorAll("g")].indexOf(document.activeElement);
      const size = image.naturalWidth / Math.max(image.clientWidth, 1);
      layer.setAttribute("viewBox", `0 0 ${image.naturalWidth} ${image.naturalHeight}`);
      const curve = over();
      layer.replaceChildren(...(curve ? [svg("polyline", { points: curve, fill: "none", stroke: "#e69f00", "stroke-width": 2 * size })] : []), ...at.map(([x, y], i) => {
        const label = i < 2 ? photo.dataset.mark.replace("{n}", i + 1) : photo.dataset.point.replace("{n}", i - 1);
        const one = svg("g", { tabindex: 0, role: "button", "aria-label": label, "data-at": i });
        one.append(svg("circle", { cx: x, cy: y, r: 12 * size, fill: "transparent" }), svg("path", {
          d: `M${x - 7 * size},${y}h${14 * size}M${x},${y - 7 * size}v${14 * size}`, stroke: i < 2 ? "#d55e00" : "#0072b2", "stroke-width": 2 * size,
        }));
        return one;
      }));
      if (focused >= 0) layer.querySelectorAll("g")[Math.min(focused, at.length - 1)]?.focus();
      form.elements.marks.value = positions(at.slice(0, 2));
      form.elements.points.value = positions(at.slice(2));
    };
    const place = (event) => {
      const box = image.getBoundingClientRect();
      return [(event.clientX - box.left) / box.width * image.naturalWidth, (event.clientY - box.top) / box.height * image.naturalHeight];
    };
    document.getElementById("photo-file").addEventListener("change", (event) => {
      URL.revokeObjectURL(image.src);
      at = [];
      if (event.target.files[0]) image.src = URL.createObjectURL(event.target.files[0]);
    });
    image.addEventListener("load", () => {
      photo.hidden = false;
      form.elements.size.value = `${image.naturalWidth}x${image.naturalHeight}`;
      draw();
    });
    document.getElementById("photo-zoom").addEventListener("input", (event) => {
      board.style.width = `${100 * event.target.value}%`;
      draw();
    });
    board.addEventListener("pointerdown", (event) => {
      const near = event.target.closest("g");
      if (!near) at.push(place(event));
      held = near ? Number(near.dataset.at) : at.length - 1;
      board.setPointerCapture(event.pointerId);
      event.preventDefault();
      draw();
      layer.querySelectorAll("g")[held].focus();
    });
    board.addEventListener("pointermove", (event) => {
      if (held < 0) return;
      at[held] = place(event);
      draw();
    });
    board.addEventListener("pointerup", () => { held = -1; });
    board.addEventListener("pointercancel", () => { held = -1; });
    board.addEventListener("keydown", (event) => {
      const one = event.target.closest("g");
      const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!one || !step && event.key !== "Delete") return;
      const i = Number(one.dataset.at);
      if (step) at[i] = [at[i][0] + step[0], at[i][1] + step[1]];
      else at.splice(i, 1);
      event.preventDefault();
      draw();
    });
    new MutationObserver(draw).observe(document.getElementById("over").parentElement, { childList: true });
    form.addEventListener("input", draw);
  }
}
