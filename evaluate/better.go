package evaluate

// better says of figures whether less or more is better. Of the others neither
// is.
var better = map[string]int{
	"weight": less, "ring-weight": less, "whipping-weight": less, "swing": less,
	"recovery": more, "second-mode": more, "settle": less,
	"flat-turn": less, "flat-worst": less,
	"line-gap": less, "line-touch": less, "ring-load-worst": less, "ring-turn-spread": less, "line-angle-sum": less,
	"cast-mass": less, "cast-share": more,
	"strain-worst": less, "load-limit": more,
	"parts-cost": less, "bench-time": less,
}

const (
	less = -1
	more = 1
)

// Better says of a figure whether more of it is better, 1, or less, −1; 0 where
// neither is.
func Better(key string) int { return better[key] }
