package main

import (
	_ "embed" // of jsonPage
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui"
)

// jsonPage tells every key that --json prints. A test holds it against what is printed.
//
//go:embed JSON.md
var jsonPage string

// command is one row of the table of commands. Everything that is said of a command, and how its line is read, comes
// from here: a new command is a row.
type command struct {
	manual.Command
	run func(e *env, a *manual.Asked) int
}

// Flags that several commands share.
var (
	jsonFlag    = manual.Flag{Name: "json", Help: "the answer as JSON, with exact values; see skywedge help json"}
	bagFlag     = manual.Flag{Name: "bag", Kind: manual.File, Value: "FILE", Env: "SKYWEDGE_BAG", Help: "the bag to use; otherwise bag.yaml beside the card, then the one in the configuration folder, then a generic one"}
	takeOffFlag = manual.Flag{Name: "take-off", Kind: manual.Text, Value: "TIME", Help: "instead of the card's"}
	atFlag      = manual.Flag{Name: "at", Kind: manual.Text, Value: "LAT,LON", Help: "the place, north and east positive, or in any usual notation: 64°02'54\"N 16°10'46\"W, geo:64.0484,-16.1794, a link with the coordinates in it"}
	whenFlag    = manual.Flag{Name: "when", Kind: manual.Text, Value: "TIME", Help: "the instant"}
	zoneFlag    = manual.Flag{Name: "zone", Kind: manual.Text, Value: "ZONE", Help: "the time zone of TIME and of what is answered, such as Europe/Madrid"}
	secondFlag  = manual.Flag{Name: "second", Kind: manual.Number, Value: "S", Help: "the moment: seconds of flight time, with one take a leg and no transit"}
)

// flags joins flags of a command's own with shared ones.
func flags(own []manual.Flag, shared ...manual.Flag) []manual.Flag { return append(own, shared...) }

// table is the table of commands. The workbench comes first, and has no name.
func table() []command {
	return []command{
		{manual.Command{
			Args: "[CARD…|DIR|PICTURE…]", Operand: manual.Files,
			Line: "the workbench, on the demo trip or on the cards given; a name ending in .yaml that is not there yet begins a new card, and a picture (JPEG, TIFF, DNG, HEIF) a new shot at its place, its time and, where it tells one, its heading",
			Flags: flags([]manual.Flag{
				{Name: "theme", Kind: manual.Text, Env: "SKYWEDGE_THEME", Value: "NAME", Words: []string{"dark", "light"}, Help: "colours on a ground of their own; otherwise the terminal's ground, with colours as COLORFGBG says or such as read on both"},
				{Name: "pixels", Kind: manual.Text, Env: "SKYWEDGE_PIXELS", Value: "HOW", Words: tui.PixelWords, Help: "pictures in pixels while no key moves: auto where the terminal says that it shows them by kitty's graphics protocol (inside tmux and screen it is not asked), off, or kitty, without asking (tmux lets them through with its allow-passthrough on)"},
				{Name: "ascii", Help: "draw without block characters"},
				{Name: "no-mouse", Help: "leave the mouse to the terminal"},
			}, bagFlag),
		}, workbenchCommand},
		{manual.Command{
			Name: "card", Args: "CARD…", Operand: manual.Cards, Line: "the call for a card, and one row a leg",
			Flags:   flags([]manual.Flag{{Name: "brief", Help: "the call in six lines"}}, jsonFlag, bagFlag, takeOffFlag),
			Example: []string{"card examples/1-breakwater.yaml --brief"},
		}, cardCommand},
		{manual.Command{
			Name: "filters", Args: "CARD", Operand: manual.Cards, Line: "every filter of the bag on this flight, best first, with the reasons",
			Flags:   flags(nil, jsonFlag, bagFlag, takeOffFlag),
			Example: []string{"filters examples/5-sea-stacks.yaml"},
		}, filtersCommand},
		{manual.Command{
			Name: "hours", Args: "CARD", Operand: manual.Cards, Line: "the shot at every other time of its day or its year, and the best windows",
			Flags: flags([]manual.Flag{
				{Name: "over", Kind: manual.Text, Value: "SPAN", Default: "day", Words: []string{"day", "year"}, Help: "which times"},
				{Name: "by", Kind: manual.Text, Value: "MEASURE", Default: "call", Words: hours.MeasureNames(),
					Help: "what the times are compared by; call is how well the bag holds the shot, left the minutes of clean light"},
			}, jsonFlag, bagFlag, takeOffFlag),
			Example: []string{"hours examples/3-estuary.yaml --by glare"},
		}, hoursCommand},
		tripRow(),
		sheetRow(),
		frameRow(),
		{manual.Command{
			Name: "rose", Args: "CARD --second S", Operand: manual.Cards, Line: "what the filter does to the sky for every heading, at one moment",
			Flags: flags([]manual.Flag{
				{Name: "step", Kind: manual.Number, Value: "DEG", Default: "15", Help: "how far apart the headings are, 1 to 90; it is made to divide the circle"},
			}, secondFlag, jsonFlag, bagFlag, takeOffFlag),
			Example: []string{"rose examples/2-lighthouse.yaml --second 10"},
		}, roseCommand},
		{manual.Command{
			Name: "above", Args: "CARD", Operand: manual.Cards, Line: "the flight from above: where the aircraft is on every leg, where it looks, where the subject is",
			Flags:   flags(nil, jsonFlag, bagFlag, takeOffFlag),
			Example: []string{"above examples/1-breakwater.yaml"},
		}, aboveCommand},
		legsRow(),
		pathRow(),
		flownRow(),
		measureRow(),
		skylineRow(),
		{manual.Command{
			Name: "sun", Args: "--at LAT,LON --when TIME", Line: "sun, shadow, moon, the day's events, illuminance",
			Flags:   flags(nil, atFlag, whenFlag, zoneFlag, jsonFlag),
			Example: []string{"sun --at 43.3672,-8.4604 --when 2026-09-18T19:40 --zone Europe/Madrid"},
		}, sunCommand},
		skyRow(),
		{manual.Command{
			Name: "check", Args: "FILE…", Operand: manual.Cards, Line: "is this card or bag valid?",
			Flags:   flags(nil, jsonFlag, bagFlag),
			Example: []string{"check examples/1-breakwater.yaml examples/bag.yaml"},
		}, checkCommand},
		{manual.Command{
			Name: "fields", Args: "[card|bag]", Operand: manual.Word, Words: []string{"card", "bag"},
			Line:    "every key of a card or a bag: unit, range, default, meaning",
			Flags:   flags(nil, jsonFlag),
			Example: []string{"fields bag"},
		}, fieldsCommand},
		{manual.Command{
			Name: "folders", Args: "[CARD]", Operand: manual.Cards, Line: "where its folders and files are, and which bag is used, and why",
			Flags:   flags(nil, jsonFlag, bagFlag),
			Example: []string{"folders examples/1-breakwater.yaml"},
		}, foldersCommand},
		{manual.Command{
			Name: "completion", Args: "bash|zsh|fish", Operand: manual.Word, Words: manual.Shells(), Line: "what a shell reads to complete command lines",
			Example: []string{"completion bash"},
		}, completionCommand},
		{manual.Command{
			Name: "man", Line: "the manual page; to read it: skywedge man | man -l -",
			Example: []string{"man"},
		}, manCommand},
		{manual.Command{
			Name: "version", Line: "which skywedge this is, and what it was built from",
			Flags:   flags([]manual.Flag{{Name: "licences", Help: "the terms of everything that is linked into it"}}, jsonFlag),
			Example: []string{"version"},
		}, versionCommand},
		{manual.Command{
			Name: "help", Args: "[COMMAND|json]", Operand: manual.Word, Line: "this; what one command takes; or what --json prints",
			Example: []string{"help frame"},
		}, nil}, // it needs the whole table
	}
}

func frameRow() command {
	return command{manual.Command{
		Name: "frame", Args: "CARD --second S (-o FILE | --json)", Operand: manual.Cards, Line: "the picture through the lens, or the numbers behind it",
		Flags: flags([]manual.Flag{
			{Name: "o", Kind: manual.File, Value: "FILE", Help: "where the picture goes: .png is exact, .jpg smaller; - is standard output, as PNG"},
			{Name: "size", Kind: manual.Text, Value: "WxH", Help: fmt.Sprintf("its size in pixels; otherwise %d wide and as tall as the camera's frame, of the numbers %dx%d", frameWide, numbersWide, numbersTall)},
			{Name: "filter", Kind: manual.Text, Value: "NAME", Help: "through this filter of the bag, or none; otherwise the call's"},
			{Name: "setting", Kind: manual.Number, Value: "STOPS", Help: "where a variable filter is set; otherwise where it does best"},
			{Name: "ring", Kind: manual.Number, Value: "DEG", Help: "where the ring's mark stands, clockwise from 12 o'clock, facing the lens; otherwise where it does best"},
			{Name: "bare", Help: "without any filter"},
			{Name: "half", Help: "the left half bare, the right half through the filter"},
			{Name: "exposed", Kind: manual.Text, Value: "HOW", Words: exposureWords, Told: true,
				Help: "one: one exposure and white balance for bare and filtered, so that what the filter does shows; own: each at its own; call: as the call sets it; one by default"},
			{Name: "zebra", Help: "stripes over what clips, and over what is noisy at an ISO above the clean one"},
		}, secondFlag, jsonFlag, bagFlag, takeOffFlag),
		Example: []string{"frame examples/2-lighthouse.yaml --second 10 --half -o light.png"},
	}, frameCommand}
}

func skyRow() command {
	return command{manual.Command{
		Name: "sky", Args: "(--at LAT,LON --when TIME | --sun AZ,ALT)", Line: "sky luminance and polarisation, as a table or in one direction",
		Flags: flags([]manual.Flag{
			{Name: "sun", Kind: manual.Text, Value: "AZ,ALT", Help: "where the sun stands, instead of a place and an instant"},
		}, atFlag, whenFlag, zoneFlag, manual.Flag{Name: "toward", Kind: manual.Text, Value: "AZ,ALT", Help: "one direction; otherwise a table"},
			manual.Flag{Name: "cloud", Kind: manual.Number, Value: "PCT", Default: "0", Help: "how much of the sky is cloud, 0 to 100"},
			manual.Flag{Name: "visibility", Kind: manual.Number, Value: "KM", Default: "40", Help: "how far one sees, 1 to 300"},
			manual.Flag{Name: "aod", Kind: manual.Number, Value: "DEPTH", Help: "aerosol optical depth at 550 nm, 0 to 2, instead of the visibility"},
			manual.Flag{Name: "air", Kind: manual.Text, Value: "NAME", Default: "auto", Words: shot.AirNames(), Help: "what the haze is made of"},
			manual.Flag{Name: "ground", Kind: manual.Text, Value: "NAME", Default: "grass", Words: shot.GroundNames(), Help: "what lies around"},
			manual.Flag{Name: "albedo", Kind: manual.Number, Value: "X", Help: "how much of the light the ground gives back, 0 to 1, instead of its name"},
			manual.Flag{Name: "nm", Kind: manual.Number, Value: "NM", Default: "550", Help: "wavelength in nanometres, 400 to 700"},
			jsonFlag),
		Example: []string{"sky --sun 263,10 --toward 0,10"},
	}, skyCommand}
}

// program is the table as it is told and read.
func program() *manual.Program {
	p := &manual.Program{
		Name: "skywedge", Line: "plan one shot of a small drone on the ground",
		Intro: "skywedge plans one shot of a small drone on the ground: filter or none, ring angle, shutter, ISO, and what the polariser will do to the sky along the flight.",
		Notes: []manual.Note{
			{Title: "Cards and times", Text: `A card is read from standard input as "-". TIME is RFC 3339 (2026-09-18T19:40:00+02:00), or without an offset in the card's or --zone's time, or now, or now+10 (minutes).`},
			{Title: "Exit codes", Entries: [][2]string{
				{"0", "done"}, {"1", "it failed"}, {"2", "the command line is wrong"},
				{"3", "a card or bag is not valid, or one of several was left out"},
			}},
		},
		Caution: "It plans pictures, not flights: check the rules, airspace and permissions for your place and date.",
	}
	for _, c := range table() {
		if c.Name == "" {
			p.Main = c.Command
			continue
		}
		p.Commands = append(p.Commands, c.Command)
	}
	help := p.Command("help")
	help.Words = append(p.Names(), "json")
	return p
}

// helpCommand tells all commands, or all of one. A flag among its words is no command: "help --json".
func helpCommand(e *env, args []string) int {
	p := program()
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		fmt.Fprint(e.out, p.Overview(e.wide))
		return exitDone
	}
	if args[0] == "json" {
		fmt.Fprint(e.out, manual.Page(jsonPage, e.wide))
		return exitDone
	}
	if c := p.Command(args[0]); c != nil {
		fmt.Fprint(e.out, p.Help(c, e.wide))
		return exitDone
	}
	e.asJSON = asksForJSON(args)
	return noSuchCommand(e, args[0])
}

func completionCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) != 1 || program().Completion(a.Rest[0]) == "" {
		return usageError(e, "name a shell: %s", strings.Join(manual.Shells(), ", "))
	}
	fmt.Fprint(e.out, program().Completion(a.Rest[0]))
	return exitDone
}

func manCommand(e *env, a *manual.Asked) int {
	info, _ := debug.ReadBuildInfo()
	v, date := versionOf(info), ""
	if v.CommitTime != nil && len(*v.CommitTime) >= len(time.DateOnly) {
		date = (*v.CommitTime)[:len(time.DateOnly)]
	}
	fmt.Fprint(e.out, program().ManPage(v.Version, date))
	return exitDone
}
