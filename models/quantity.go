package models

// UnitSize is how many SI units make one of the unit that symbol names, 0.001
// for "mm". It panics on an unknown unit: symbols come from the program.
func UnitSize(symbol string) float64 {
	u := unitsBySymbol[symbol]
	if u == nil {
		panic("models: unknown unit " + symbol)
	}
	size, _ := u.size.Float64()
	return size
}

// ParseForce reads "5 N", or "1.5 lb" and "200 g" as the weight of that mass.
// The error quotes the text and says what was expected.
func ParseForce(text string) (Force, error) {
	v, err := parseQuantity(text, force)
	return Force(v), err
}

// ParseAngle reads "90 deg", "90°" or "1.57 rad"; see ParseForce.
func ParseAngle(text string) (Angle, error) {
	v, err := parseQuantity(text, angle)
	return Angle(v), err
}

// ParseLength reads "25 mm"; see ParseForce.
func ParseLength(text string) (Length, error) {
	v, err := parseQuantity(text, length)
	return Length(v), err
}

// ParseMass reads "12 g"; see ParseForce.
func ParseMass(text string) (Mass, error) {
	v, err := parseQuantity(text, mass)
	return Mass(v), err
}

// ParseDuration reads "0.7 s"; see ParseForce.
func ParseDuration(text string) (Duration, error) {
	v, err := parseQuantity(text, duration)
	return Duration(v), err
}

// DidYouMean gives "; did you mean NAME?" for the name among known that is near
// enough to word to have been meant, else "".
func DidYouMean(word string, known []string) string { return suggest(word, known) }
