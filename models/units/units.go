package units

// Quantities in SI units.
type (
	Length      float64 // m
	Mass        float64 // kg
	Force       float64 // N
	Stress      float64 // Pa
	Density     float64 // kg/m³
	LineDensity float64 // kg/m
	Rigidity    float64 // N·m², bending stiffness
	Angle       float64 // rad
	Frequency   float64 // Hz
	Duration    float64 // s
	Share       float64 // 1; 3 % is 0.03
	Money       float64 // in the range's currency
)

// Size is how many SI units make one of the unit that symbol names, 0.001
// for "mm". It panics on an unknown unit: symbols come from the program.
func Size(symbol string) float64 {
	u := unitsBySymbol[symbol]
	if u == nil {
		panic("units: unknown unit " + symbol)
	}
	size, _ := u.size.Float64()
	return size
}

// ParseAs reads a quantity of U, such as "25 mm", or "1.5 lb" as the force of
// that weight; see Parse.
func ParseAs[U ~float64](text string) (U, error) {
	v, err := Parse(text, Of[U]())
	return U(v), err
}

// MustParse reads a quantity that stands in our own code.
func MustParse(text string, d *Dimension) float64 {
	v, err := Parse(text, d)
	if err != nil {
		panic("units: " + err.Error())
	}
	return v
}
