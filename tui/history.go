package tui

import "time"

// joinWithin is how long repeats on one field count as one step of undo.
const joinWithin = time.Second

// history is what can be undone and redone of a document. A document cannot change, so a step is the
// document as it was.
type history[T any] struct {
	past, future []version[T]
	lastPath     string
	lastAt       time.Time
}

// version is a document of the history. The change that leads on from it (or, to be redone, back to it)
// has a number, by which the changes of a card and of its bag are told in order.
type version[T any] struct {
	doc T
	n   int
}

// record makes the document before a change a step of undo, unless the same field was changed a moment
// ago. tick numbers the change.
func (h *history[T]) record(was T, path string, now time.Time, tick func() int) {
	if path == "" || path != h.lastPath || now.Sub(h.lastAt) > joinWithin {
		h.past = append(h.past, version[T]{was, tick()})
	}
	h.future, h.lastPath, h.lastAt = nil, path, now
}

// settle ends typing that changed the document from was on.
func (h *history[T]) settle(was T, tick func() int) {
	h.past, h.future = append(h.past, version[T]{was, tick()}), nil
}

// abandon ends typing whose outcome is not kept: redo brings it.
func (h *history[T]) abandon(typed T, tick func() int) {
	h.future = []version[T]{{typed, tick()}}
}

// step goes back (−1) or forth (+1) from the document there is, and gives the one that is there then.
func (h *history[T]) step(dir int, now T) (doc T, ok bool) {
	from, to := &h.past, &h.future
	if dir > 0 {
		from, to = to, from
	}
	n := len(*from)
	if n == 0 {
		return now, false
	}
	v := (*from)[n-1]
	*to = append(*to, version[T]{now, v.n})
	*from = (*from)[:n-1]
	h.lastPath = ""
	return v.doc, true
}

// next gives the number of the change that the next step goes back or forth over, 0 for none.
func (h *history[T]) next(dir int) int {
	list := h.past
	if dir > 0 {
		list = h.future
	}
	if len(list) == 0 {
		return 0
	}
	return list[len(list)-1].n
}
