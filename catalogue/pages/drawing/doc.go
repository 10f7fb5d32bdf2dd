// Package drawing holds pictures made of lines and letters, in millimetres on
// paper, and writes them as SVG. It knows nothing of rods, pages or files.
//
// A picture is painted in inks and not in colours: a themed Ink is dark on light
// paper and light on dark, as the sheet that CSS gives says.
//
// It imports nothing of ours. A new shape is a Mark with its bounds and its SVG.
package drawing
