package drawing

import (
	"fmt"
	"strings"
)

// CSS is the style sheet that pictures need, once a page. It sets the custom
// properties --strong, --faint, --hair, --paper, --band and --grid and the
// colours for light ground, for dark where the reader asks for it, and for
// paper, which is light. On a screen a picture is as wide as its column and
// grows with the reader's letters; its own become smaller against it where the
// column is wide, so that they are about as large as those around it.
func CSS() string {
	var light, dark, classes strings.Builder
	for _, p := range palette[Strong:] {
		fmt.Fprintf(&light, "--%s:%s;", p.name, p.light.hex())
		if p.dark != p.light {
			fmt.Fprintf(&dark, "--%s:%s;", p.name, p.dark.hex())
		}
		fmt.Fprintf(&classes, ".fill-%[1]s{fill:var(--%[1]s)}.line-%[1]s{stroke:var(--%[1]s)}\n", p.name)
	}
	return fmt.Sprintf(`:root{color-scheme:light dark;%s}
@media screen and (prefers-color-scheme:dark){:root{%s}}
.picture,.sample{fill:none;stroke-width:%g;stroke-linejoin:round}
.picture{display:block;max-width:100%%;height:auto}
@media screen{figure{container-type:inline-size}
.picture{width:100%%;min-width:20rem;max-width:44rem}
@container (width>=28rem){figure:not(.leaf) .picture text{font-size:.85em}}
@container (width>=36rem){figure:not(.leaf) .picture text{font-size:.72em}}}
:where(.picture text){fill:var(--strong)}
.picture text{font-family:Arial,"Liberation Sans",Helvetica,sans-serif;font-variant-numeric:tabular-nums;text-rendering:geometricPrecision}
.picture .bold{font-weight:600}
@media print{:root{color-scheme:light}.picture{break-inside:avoid;print-color-adjust:exact}}
%s`, light.String(), dark.String(), usualWidth, classes.String())
}

func (c Colour) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }
