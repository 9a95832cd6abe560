// Package field reads, checks, edits and writes small YAML documents that people write by hand.
//
// The one hard idea is that one table, a tree of [Spec], says what a document may hold: names, kinds,
// units, ranges, allowed words, steps and help. The same table drives reading ([Read]), checking, the
// workbench's form, writing and the printed documentation ([Reference]), so that the five cannot
// disagree.
//
// A document ([Doc]) does not change: an edit ([Doc.Set], [Doc.Insert], [Doc.Remove]) returns a new Doc,
// which makes undo a stack of documents. The author's comments and key order stay. What is wrong comes
// as [Faults], all of them at once, each with its line and column, what was found and what is allowed.
//
// [Either], [Choice], [Nearest] and [Figure] are how choices, misspelt names and numbers are put into
// such a message.
package field

// Kind is the kind of value that stands at a place in a document.
type Kind int

// The kinds.
const (
	Number  Kind = iota // 12.5
	Integer             // 3, without a point
	Seconds             // 2, 0.02 or 1/50: a time in seconds that may be written as a fraction
	Text                // anything without control characters
	Word                // one of Words, nothing else
	Bool                // true or false
	Custom              // a scalar that only Check understands (a heading, a date and time)
	Map                 // keys from Fields
	List                // any count of Item
	Pairs               // a list of [number, number], such as a skyline
)

// Spec is one row of a table of fields: what may stand at one place, and what to say about it.
type Spec struct {
	Key      string   // the key in the parent map; "" for a root or a list item
	Kind     Kind     //
	Pair     bool     // a list [from, to] of two such scalars may stand instead of one
	PairOnly bool     // the list [a, b] is required, one scalar is not enough
	Words    []string // words that may stand instead of a number (Number, Integer, Seconds, Custom), or all there is (Word)
	Unit     string   // as printed: "m", "°", "m/s", "stops"
	Min, Max float64  // inclusive range of a number; both 0 means no range
	Step     float64  // one nudge in the workbench, in Unit
	Default  string   // what holds when it is absent, as a person would type it; "" if there is none
	Required bool     //
	More     bool     // folded under "more" in the workbench's form
	Lines    bool     // a Text may run over several lines
	Help     string   // one line, lower case, says what it means and what it counts from

	// Check looks at a scalar that its Kind lets pass; of a Custom it is the only judge, besides
	// Words. Its error says what is allowed, to be read after "allowed: ": "a bearing from 0 to
	// 360°, NW or sun+90". Of Pairs it sees each pair as "250 4". A Custom's Check is also asked
	// about "" to learn what is allowed.
	Check func(text string) error

	// Read takes other ways to write a Number than the decimal one, in quotation marks where YAML needs them;
	// Also says what they look like, to be read after "or".
	Read func(text string) (v float64, ok bool)
	Also string

	Fields   []Spec // of a Map
	Item     *Spec  // of a List
	MinItems int
	MaxItems int // 0: 1000
}
