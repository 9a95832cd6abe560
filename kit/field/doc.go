package field

// MaxBytes is the largest document that is read. A larger one is refused unread: a megabyte of
// YAML list costs a second and 70 MiB to decode (measured).
const MaxBytes = 256 << 10

// Doc is a document that was read against a table of fields. It is immutable.
type Doc struct {
	file string
	spec *Spec
}

// Read decodes data against the table. All faults are reported at once. The Doc is nil only when
// the text cannot be taken for one YAML document that is a map (syntax, size, second document,
// anchors, tags, control characters); with lesser faults it is there, so that the workbench can
// show what is wrong.
func Read(file string, data []byte, spec *Spec) (*Doc, Faults) { panic("not written") }

// File gives the name the document was read under.
func (d *Doc) File() string { return d.file }

// Root gives the whole document as a Value.
func (d *Doc) Root() Value { panic("not written") }

// At gives the value at a path such as "legs[2].target.distance_m"; an absent one answers
// Exists() == false and keeps the position of the nearest parent for faults.
func (d *Doc) At(path string) Value { panic("not written") }

// SpecAt gives the row of the table that governs a path, or nil.
func (d *Doc) SpecAt(path string) *Spec { panic("not written") }

// Set gives a new document with the scalar, pair or word at path replaced by what a person typed:
// "35", "35 50" or "35, 50" or "[35, 50]" (a pair), "1/50", "auto", "NW", "sun+90". Empty text
// removes the key, which brings its default back. Missing parent maps are made. Comments survive.
// Faults are those of the text against the table; the new Doc is nil then.
func (d *Doc) Set(path, text string) (*Doc, Faults) { panic("not written") }

// Insert puts an item, written as YAML ("{move: hold, heading_deg: 90, seconds: 10}"), into the
// list at path ("legs") before index i (len: at the end).
func (d *Doc) Insert(path string, i int, yaml string) (*Doc, Faults) { panic("not written") }

// Remove gives a new document without the key or the list item at path ("legs[2]").
func (d *Doc) Remove(path string) (*Doc, Faults) { panic("not written") }

// Swap exchanges two items of the list at path.
func (d *Doc) Swap(path string, i, j int) (*Doc, Faults) { panic("not written") }

// Bytes writes the document: comments and key order kept, values as typed. Reading it and writing
// it again changes nothing.
func (d *Doc) Bytes() []byte { panic("not written") }

// Value is one place in a document, present or absent.
type Value struct{}

// Exists tells whether the place holds something.
func (v Value) Exists() bool { panic("not written") }

// Path gives the place's path: "legs[2].height_m".
func (v Value) Path() string { panic("not written") }

// Get gives the value under a key of a map.
func (v Value) Get(key string) Value { panic("not written") }

// Len gives the count of items of a list, 0 when absent.
func (v Value) Len() int { panic("not written") }

// Index gives an item of a list.
func (v Value) Index(i int) Value { panic("not written") }

// Text gives a scalar as written ("35", "NW"), a pair as "35 50", absent "".
func (v Value) Text() string { panic("not written") }

// IsPair tells whether a list of two stands here.
func (v Value) IsPair() bool { panic("not written") }

// Texts gives the two scalars of a pair, or the one scalar twice.
func (v Value) Texts() (from, to string) { panic("not written") }

// Float gives the number at this place (a fraction is worked out), or otherwise when it is absent
// or a word.
func (v Value) Float(otherwise float64) float64 { panic("not written") }

// Pair gives the two numbers of a pair, or the one number twice, or otherwise twice.
func (v Value) Pair(otherwise float64) (from, to float64) { panic("not written") }

// PairList gives a list of number pairs (Kind Pairs).
func (v Value) PairList() [][2]float64 { panic("not written") }

// Word gives the text, or otherwise when absent.
func (v Value) Word(otherwise string) string { panic("not written") }

// Fault words a fault at this place, for rules that the table cannot express (contradictions).
func (v Value) Fault(found, allowed string) Fault { panic("not written") }
