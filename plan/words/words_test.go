package words_test

import (
	"testing"

	"example.org/skywedge/plan/words"
)

func TestWords(t *testing.T) {
	for got, want := range map[string]string{
		words.FilterTitle("none", 0):            "bare",
		words.FilterTitle("", 0):                "bare",
		words.AboutStops(0.1):                   "under ⅓ stop",
		words.AboutStops(-0.3):                  "⅓ stop",
		words.AboutStops(0.6):                   "⅔ stop",
		words.AboutStops(2):                     "2 stops",
		words.Signed(-1.01):                     "−1",
		words.Signed(0.1):                       "0",
		words.Signed(0.2):                       "+⅓",
		words.Signed(0.35):                      "+⅓",
		words.Share(0.06):                       "a twentieth",
		words.Share(0.12):                       "an eighth",
		words.Share(0.31):                       "a third",
		words.Share(1):                          "nearly all",
		words.Span(0):                           "0 min",
		words.Span(14):                          "14 min",
		words.Span(60):                          "1 h",
		words.Span(134):                         "2 h 14 min",
		words.Shutters(1.0/50, 1.0/50):          "1/50",
		words.Shutters(1.0/50, 1.0/200):         "1/50 to 1/200",
		words.Shutters(2, 1.0/5):                "2 s to 1/5 s",
		words.Shutters(2, 1):                    "2 s to 1 s",
		words.FromTo("darker by 1", "even"):     "darker by 1 to even",
		words.FromTo("cut by half", "cut by ⅓"): "cut by half to ⅓",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
