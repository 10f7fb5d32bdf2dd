"use strict";
(function (bends) {
  var text = document.getElementById(bends.id);
  var label = document.createElement("label");
  var input = document.createElement("input");
  var output = document.createElement("output");
  label.textContent = bends.label;
  label.htmlFor = output.htmlFor = input.id = bends.id + "-slider";
  input.type = "range";
  input.min = 0;
  input.max = bends.frames.length - 1;
  input.value = bends.shown;
  input.style.cssText = "display:block;width:100%;max-width:28rem;min-height:2rem";
  output.style.cssText = "font-variant-numeric:tabular-nums;margin-left:.5em";
  input.addEventListener("input", show);
  var box = document.createElement("div");
  box.append(label, output, input);
  text.closest("svg").after(box);
  show();

  function show() {
    var frame = bends.frames[input.value];
    for (var id in frame.paths) {
      document.getElementById(id).setAttribute("d", frame.paths[id]);
    }
    text.setAttribute("x", frame.x);
    text.setAttribute("y", frame.y);
    text.textContent = output.textContent = frame.load;
    input.setAttribute("aria-valuetext", frame.load);
  }
})(BENDS);
