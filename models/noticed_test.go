package models_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/models"
)

// What an angler notices is a share of a figure or so much of it, and what the
// maker does not say is common practice.
func TestNoticed(t *testing.T) {
	_, err := models.ParseSettings("range.yaml", []byte(
		"noticed: {weight: 2 %, balance: 15 mm, third load: 20 g, half-turn: 2 %, worst strain: 4 %}\n"))
	if err == nil || !strings.Contains(err.Error(), `unknown figure "worst strain"`) {
		t.Fatalf("%v", err)
	}
	set, err := models.ParseSettings("range.yaml", []byte(
		"noticed: {weight: 2 %, balance: 15 mm, third load: 20 g, half-turn: 2 %, strain-worst: 4 %}\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		key         string
		value, want float64
	}{
		{"weight", 0.200, 0.004}, {"balance", 1.2, 0.015}, {"third-load", 5, 0.020 * 9.80665},
		{"half-turn", 0.25, 0.02}, {"strain-worst", 0.003, 0.00012},
		{"recovery", 3, 0.09}, {"rings", 7, 0},
	} {
		if got := set.NoticedOf(tc.key, tc.value); math.Abs(got-tc.want) > 1e-12 {
			t.Errorf("%s of %g: %g, want %g", tc.key, tc.value, got, tc.want)
		}
	}
	var none *models.Settings
	if got := none.NoticedOf("weight", 0.2); math.Abs(got-0.006) > 1e-12 {
		t.Errorf("without settings: %g", got)
	}
}

func TestNoticedFaults(t *testing.T) {
	for src, want := range map[string]string{
		"noticed: 2 %":                                "range.yaml:1:10: noticed: is ",
		"noticed: {wieght: 2 %}":                      `range.yaml:1:11: noticed.wieght: unknown figure "wieght"; did you mean weight?`,
		"noticed: {weight: 2 mm}":                     "range.yaml:1:19: noticed.weight: ",
		"noticed: {weight: -2 g}":                     `range.yaml:1:19: noticed.weight: "-2 g" is not more than nothing`,
		"noticed: {weight: 0 %}":                      `range.yaml:1:19: noticed.weight: "0 %" is zero`,
		"noticed: {weight: 200 %}":                    `range.yaml:1:19: noticed.weight: "200 %" is too much`,
		"noticed: {rings: 1}":                         "range.yaml:1:18: noticed.rings: is counted, and every change of it is noticed",
		"noticed: {balance: 2}":                       "range.yaml:1:20: noticed.balance: ",
		"noticed: {third load: 1 g, third-load: 2 g}": "given twice",
	} {
		if _, err := models.ParseSettings("range.yaml", []byte(src+"\n")); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", src, err, want)
		}
	}
}
