package cells

import (
	"os"
	"strings"
)

// Profile is how much colour a terminal shows.
type Profile uint8

// The profiles, poorest first.
const (
	NoColour Profile = iota
	Sixteen
	TwoFiftySix
	TrueColour
)

// DetectProfile decides by the environment, and by whether the output is a console of the system that acts on codes for
// colour. NO_COLOR (any value) and TERM=dumb give none; COLORTERM gives true colour. Without a TERM there is no colour,
// except on such a console: on Windows nothing sets TERM, and a console that acts on codes shows every colour
// (Microsoft's reference of console virtual terminal sequences, extended colours; from memory: since 2017).
func DetectProfile(env func(string) string, console bool) Profile {
	if env == nil {
		env = os.Getenv
	}
	term := env("TERM")
	switch {
	case env("NO_COLOR") != "" || term == "dumb":
		return NoColour
	case term == "" && console:
		return TrueColour
	case term == "" || strings.HasSuffix(term, "-m") || strings.HasPrefix(term, "vt"):
		return NoColour
	case env("COLORTERM") == "truecolor" || env("COLORTERM") == "24bit" || strings.HasSuffix(term, "-direct"):
		return TrueColour
	case strings.Contains(term, "256color"):
		return TwoFiftySix
	}
	return Sixteen
}

// Colour is the colour of a cell's letter or ground: nothing (the terminal's own), a role of the
// theme, or an exact colour.
type Colour uint32

const (
	kindRole Colour = 1 << 24
	kindRGB  Colour = 2 << 24
	kindMask Colour = 0xff << 24
)

// RGB makes an exact colour of 8-bit sRGB parts.
func RGB(r, g, b uint8) Colour { return kindRGB | Colour(r)<<16 | Colour(g)<<8 | Colour(b) }

func (c Colour) parts() (r, g, b uint8) { return uint8(c >> 16), uint8(c >> 8), uint8(c) }

// RGB gives the parts of an exact colour.
func (c Colour) RGB() (r, g, b uint8) { return c.parts() }

// Luma gives the brightness of an exact colour as the eye weighs it, 0..255; other colours give 0.
func (c Colour) Luma() int {
	if c&kindMask != kindRGB {
		return 0
	}
	r, g, b := c.parts()
	return (int(r)*lumaRed + int(g)*lumaGreen + int(b)*lumaBlue) / lumaWhole
}

// What red, green and blue weigh in the brightness of sRGB (ITU-R BT.709, from memory).
const (
	lumaRed, lumaGreen, lumaBlue = 54, 183, 19
	lumaWhole                    = lumaRed + lumaGreen + lumaBlue
)

// The roles of the theme. Default leaves the terminal's own colour.
const (
	Default    Colour = 0
	Dim               = kindRole | 1  // defaults, units, help
	Faint             = kindRole | 2  // rules and gutters
	Accent            = kindRole | 3  // focus
	Good              = kindRole | 4  // blue: all is well; a word stands beside it
	Bad               = kindRole | 5  // orange: look here; a word stands beside it
	Strong            = kindRole | 6  // the answer
	BandGround        = kindRole | 7  // ground of the answer band
	PickGround        = kindRole | 8  // ground of the selected row
	EditGround        = kindRole | 9  // ground of the text that is being edited
	EditText          = kindRole | 10 // and its letters
	Chart             = kindRole | 11 // strips
	ChartLow          = kindRole | 12 // their ground
	OnGround          = kindRole | 13 // text on the two grounds; the pen picks it by itself
	ground            = kindRole | 14 // of everything, where a theme paints its own
	text              = kindRole | 15 // and the letters on it
	roleCount         = 16
)

// shade is one role in the three profiles that have colour: an exact colour, and the numbers of
// the 256 and of the 16 colours. 0 and −1 leave the terminal's own.
type shade struct {
	rgb        Colour
	of256, of6 int16
}

// Theme is a set of shades.
type Theme struct {
	name   string
	shades [roleCount]shade
	Light  bool
	paints bool // it paints the whole screen, whatever the terminal's own colours are
}

// Name gives "dark" or "light".
func (t *Theme) Name() string { return t.name }

var dark = Theme{name: "dark", shades: [roleCount]shade{
	1:  {RGB(0x8f, 0x98, 0xa3), 246, 7},
	2:  {RGB(0x4a, 0x52, 0x5c), 239, 8},
	3:  {RGB(0x7f, 0xc8, 0xd8), 116, 14},
	4:  {RGB(0x7a, 0xb0, 0xf0), 111, 12},
	5:  {RGB(0xf0, 0xa0, 0x50), 215, 11},
	6:  {RGB(0xf4, 0xf1, 0xe8), 255, 15},
	7:  {RGB(0x1e, 0x2a, 0x33), 236, -1},
	8:  {RGB(0x26, 0x33, 0x3d), 237, -1},
	9:  {RGB(0x7f, 0xc8, 0xd8), 116, 6},
	10: {RGB(0x10, 0x18, 0x1c), 16, 0},
	11: {RGB(0xbb, 0xae, 0x71), 144, 7},
	12: {RGB(0x22, 0x26, 0x2b), 235, -1},
	13: {RGB(0xf4, 0xf1, 0xe8), 255, -1},
}}

// either reads on dark and on light grounds: middle tones, and plain text in the terminal's own
// colour.
var either = Theme{name: "either", shades: [roleCount]shade{
	1:  {RGB(0x80, 0x8a, 0x94), 244, -1},
	2:  {RGB(0x7a, 0x80, 0x88), 243, 8},
	3:  {RGB(0x2f, 0x98, 0xae), 37, 6},
	4:  {RGB(0x4a, 0x8c, 0xd8), 68, 12}, // the dark blue of 16 is not to be seen on black
	5:  {RGB(0xd0, 0x78, 0x20), 172, 3},
	6:  {0, -1, -1},
	7:  {RGB(0x1e, 0x2a, 0x33), 236, -1},
	8:  {RGB(0x26, 0x33, 0x3d), 237, -1},
	9:  {RGB(0x7f, 0xc8, 0xd8), 116, 6},
	10: {RGB(0x10, 0x18, 0x1c), 16, 0},
	11: {RGB(0x9a, 0x94, 0x78), 102, -1},
	12: {RGB(0x30, 0x36, 0x3c), 237, -1},
	13: {RGB(0xf4, 0xf1, 0xe8), 255, -1},
}}

var light = Theme{name: "light", Light: true, shades: [roleCount]shade{
	1:  {RGB(0x42, 0x4a, 0x53), 238, 8},
	2:  {RGB(0x8c, 0x94, 0x9c), 246, 8},
	3:  {RGB(0x00, 0x6a, 0x80), 24, 6},
	4:  {RGB(0x1c, 0x55, 0xa8), 25, 4},
	5:  {RGB(0xa8, 0x4e, 0x00), 130, 1},
	6:  {RGB(0x10, 0x14, 0x18), 16, 0},
	7:  {RGB(0xe4, 0xea, 0xee), 254, -1},
	8:  {RGB(0xd8, 0xe2, 0xe8), 253, -1},
	9:  {RGB(0x00, 0x6a, 0x80), 24, 6},
	10: {RGB(0xff, 0xff, 0xff), 231, 15},
	11: {RGB(0x3d, 0x4d, 0x6e), 60, 4},
	12: {RGB(0xec, 0xee, 0xf0), 255, -1},
	13: {RGB(0x10, 0x14, 0x18), 16, -1},
}}

// sunlit and night are the light and the dark theme on grounds of their own. Full white is what can be read in the sun;
// the dark one is not quite black, which on some screens smears.
var (
	sunlit = light.on(shade{RGB(0xff, 0xff, 0xff), 231, 15}, shade{RGB(0x10, 0x14, 0x18), 16, 0})
	night  = dark.on(shade{RGB(0x10, 0x14, 0x17), 233, 0}, shade{RGB(0xdc, 0xdc, 0xd6), 253, 7})
)

// on returns the theme with a ground of its own under it.
func (t Theme) on(below, letters shade) *Theme {
	t.paints = true
	t.shades[ground&0xff], t.shades[text&0xff] = below, letters
	return &t
}

// ThemeByName gives the theme "dark" or "light", which paint their own grounds. Any other name decides by COLORFGBG,
// which many terminals set to "foreground;background": a background of 7 or 9..15 is light, another one dark.
// Without it a palette is used that reads on both: the terminal is never asked, since many do not
// answer.
func ThemeByName(name, colorFGBG string) *Theme {
	switch {
	case name == "light":
		return sunlit
	case name == "dark":
		return night
	case LightGround(colorFGBG):
		return &light
	case colorFGBG != "":
		return &dark
	}
	return &either
}

// Next gives the theme after this one, in a circle: light, dark, and own, that of the terminal.
func (t *Theme) Next(own *Theme) *Theme {
	switch t {
	case sunlit:
		return night
	case night:
		return own
	}
	return sunlit
}

// Paints tells whether the theme paints its own ground.
func (t *Theme) Paints() bool { return t.paints }

// LightGround reads COLORFGBG.
func LightGround(colorFGBG string) bool {
	i := strings.LastIndexByte(colorFGBG, ';')
	if i < 0 {
		return false
	}
	switch colorFGBG[i+1:] {
	case "7", "9", "10", "11", "12", "13", "14", "15":
		return true
	}
	return false
}

// grey16 gives one of the four greys of a 16-colour terminal for an exact colour.
func grey16(c Colour) int {
	switch l := c.Luma(); {
	case l < 48:
		return 0
	case l < 128:
		return 8
	case l < 208:
		return 7
	}
	return 15
}
