package cells

import "testing"

// Half of a wide character that something is written over leaves a blank, on either side: else the line would be a cell
// longer or shorter than the screen.
func TestWritingOverWideCharacters(t *testing.T) {
	for _, c := range []struct {
		x    int
		text string
		want string
	}{
		{0, "a", "a 本 "}, {1, "a", " a本 "}, {2, "a", "日a  "}, {1, "ab", " ab  "}, {1, "字", " 字  "}, {0, "字", "字本 "}, {4, "字", "日本 "},
	} {
		var canvas Canvas
		canvas.Reset(5, 1)
		canvas.All().Text(0, 0, "日本", Style{})
		canvas.All().Text(c.x, 0, c.text, Style{})
		got := string((&Pen{Profile: NoColour}).Line(&canvas, 0))
		if got != c.want || Width(got) != 5 {
			t.Errorf("%q at %d: %q, want %q", c.text, c.x, got, c.want)
		}
	}
}
