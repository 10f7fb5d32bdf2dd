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
