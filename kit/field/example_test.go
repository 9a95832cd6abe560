package field_test

import (
	"errors"
	"fmt"

	"example.org/skywedge/kit/field"
)

var shot = &field.Spec{Kind: field.Map, Fields: []field.Spec{
	{Key: "aim", Kind: field.Word, Words: []string{"sky", "water", "haze"}, Default: "sky", Help: "what the polariser is for"},
	{Key: "height_m", Kind: field.Number, Min: 0, Max: 500, Step: 5, Unit: "m", Required: true, Help: "above take-off"},
}}

// An edit makes a new document. The author's comments and the order of keys stay.
func ExampleDoc_Set() {
	doc, _ := field.Read("shot.yaml", []byte("# low, for the stones\nheight_m: 12  # of the wall: 10\n"), shot)
	next, _ := doc.Set("aim", "water")
	next, _ = next.Set("height_m", "15")
	fmt.Printf("%s", next.Bytes())
	_, faults := next.Set("height_m", "900")
	fmt.Println(faults)
	// Output:
	// # low, for the stones
	// aim: water
	// height_m: 15  # of the wall: 10
	// shot.yaml:3:11: height_m: found "900"; allowed: a number from 0 to 500 m
}

// The table of fields is the documentation as well.
func ExampleReference() {
	fmt.Print(field.Reference(shot))
	// Output:
	// | field | allowed | default | meaning |
	// | --- | --- | --- | --- |
	// | `aim` | sky, water, haze | sky | what the polariser is for |
	// | `height_m` | a number from 0 to 500 m | required | above take-off |
}

func ExampleChoice() {
	err := errors.New("no filter of that name: " + field.Choice("nd16", []string{"CPL", "ND8", "ND16/PL"}))
	fmt.Println(err)
	// Output: no filter of that name: CPL, ND8 or ND16/PL (did you mean ND16/PL?)
}
