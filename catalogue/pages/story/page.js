"use strict";
(function (data) {
  var byID = document.getElementById.bind(document);

  // control adds a slider below a picture: without scripts there is none.
  function control(picture, name, label, most, value, show) {
    var text = document.createElement("label");
    var input = document.createElement("input");
    var output = document.createElement("output");
    var box = document.createElement("div");
    text.textContent = label;
    text.htmlFor = output.htmlFor = input.id = name;
    input.type = "range";
    input.min = 0;
    input.max = most;
    input.value = value;
    input.addEventListener("input", move);
    box.className = "control";
    box.append(text, output, input);
    picture.after(box);
    move();

    function move() {
      var said = show(+input.value);
      output.textContent = said;
      input.setAttribute("aria-valuetext", said);
    }
  }

  function svgOf(id) { return byID(id).closest("svg"); }

  if (data.slide) {
    control(svgOf(data.slide.id).parentElement, "now-slide", data.slide.label, 20, 0, function (at) {
      byID(data.slide.id).setAttribute("transform", "translate(0 " + data.slide.down * at / 20 + ")");
      return 5 * at + " %";
    });
  }

  if (data.bends) {
    control(svgOf(data.bends[0].id).parentElement, "bend-slider", data.load, data.bends[0].frames.length - 1, data.bends[0].shown, function (at) {
      data.bends.forEach(function (bend) {
        var frame = bend.frames[at], text = byID(bend.id);
        bend.moves.forEach(function (id, i) { byID(id).setAttribute("d", frame.data[i]); });
        text.setAttribute("x", frame.x);
        text.setAttribute("y", frame.y);
        text.textContent = frame.load;
        text.closest("svg").querySelector("desc").textContent = frame.said;
      });
      return data.bends[0].frames[at].load;
    });
  }
  if (data.swing && !matchMedia("(prefers-reduced-motion: reduce)").matches) {
    var swing = data.swing, at = 0, last = 0, request = 0;
    var button = document.createElement("button");
    button.type = "button";
    button.id = "swing-play";
    button.textContent = swing.play;
    button.addEventListener("click", function () {
      if (request) return pause();
      if (at >= swing.seconds) at = 0;
      button.textContent = swing.pause;
      last = performance.now();
      request = requestAnimationFrame(step);
    });
    svgOf(swing.rods[0].rod).parentElement.after(button);
  }

  function pause() {
    cancelAnimationFrame(request);
    request = 0;
    button.textContent = swing.play;
  }

  // step moves the rods on by as much time as went by.
  function step(now) {
    at = Math.min(swing.seconds, at + (now - last) / 1000);
    last = now;
    swing.rods.forEach(stand);
    if (at < swing.seconds) request = requestAnimationFrame(step);
    else pause();
  }

  // stand puts a rod and the dot on the way of its tip where they are by then.
  function stand(rod) {
    var way = rod.rest.map(function (_, i) {
      return rod.modes.reduce(function (sum, mode) {
        return sum + mode.share[i] * Math.exp(-mode.fade * at) * Math.cos(mode.turn * at);
      }, 0);
    });
    byID(rod.rod).setAttribute("d", "M" + rod.rest.map(function (p, i) {
      return (p[0] + rod.reach * way[i]).toFixed(2) + " " + p[1];
    }).join("L"));
    byID(rod.dot).setAttribute("cx", rod.start[0] + rod.perS * at);
    byID(rod.dot).setAttribute("cy", rod.start[1] - rod.high * way[0]);
  }
})(DATA);
