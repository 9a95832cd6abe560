package pixels

import (
	"slices"
	"strings"
	"sync"
	"time"
)

// Sender has what goes to the terminal for the pictures. The terminal's writer asks it: Before and After each frame, Next
// when it has nothing else to write, Leave before the screen is given back. There is never more than one set of pictures
// in it and none behind it: what is not sent when another comes is not sent at all.
type Sender struct {
	wake func()                   // the writer may have something to write now
	wrap func(code []byte) []byte // nil: as it is
	now  func() time.Time

	mu    sync.Mutex
	due   strings.Builder // codes that go before anything else
	list  []Picture       // the pictures under way, or those that the terminal has
	way   []piece         // what is still to be sent of them
	open  bool            // the terminal has a part of a picture and waits for the rest
	whole bool            // the terminal has all of the list
	up    bool            // and shows it
	again bool            // once it is told so again
	held  []int           // numbers of which the terminal may hold something
	used  int             // how many numbers were ever used
	begun time.Time       // when the first piece was handed over
	most  time.Duration   // how long all may take, 0 for ever
	slow  bool            // it took longer
}

// NewSender returns a sender that wakes a writer.
func NewSender(wrap func(code []byte) []byte, wake func()) *Sender {
	return &Sender{wake: wake, wrap: wrap, now: time.Now}
}

// quick is how long the pictures of a screen may be on their way. Over a line where it takes longer, a key would wait for
// what of them the system has taken already, some sixteen kilobytes: there are no more of them then (ours).
const quick = 2 * time.Second

// Limit sets how long pictures may take; 0 lets them.
func (s *Sender) Limit(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.most, s.slow = d, false
}

// Slow tells that the line is too slow for pictures.
func (s *Sender) Slow() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.slow
}

// Show sends pictures and shows them together when all are there. Those before are freed.
func (s *Sender) Show(list []Picture) {
	s.mu.Lock()
	s.drop()
	s.list, s.used = list, max(s.used, len(list))
	for i := range list {
		s.way = append(s.way, list[i].send()...)
	}
	s.mu.Unlock()
	s.wake()
}

// Again shows the pictures that were hidden, and tells whether the terminal still has them.
func (s *Sender) Again() bool {
	s.mu.Lock()
	if !s.whole {
		s.mu.Unlock()
		return false
	}
	s.up, s.again = true, true
	s.mu.Unlock()
	s.wake()
	return true
}

// Hide takes the pictures off the screen. What is still on its way does not come.
func (s *Sender) Hide() {
	s.mu.Lock()
	switch {
	case s.up:
		s.up, s.again = false, false
		for i := range s.list {
			s.due.WriteString(hide(s.list[i].ID))
		}
	case !s.whole:
		s.drop()
	}
	s.mu.Unlock()
	s.wake()
}

// drop frees everything in the terminal and forgets what is on its way.
func (s *Sender) drop() {
	if s.open {
		s.due.WriteString(cutShort)
	}
	for _, id := range s.held {
		s.due.WriteString(free(id))
	}
	s.list, s.way, s.held, s.open, s.whole, s.up, s.again = nil, nil, nil, false, false, false, false
}

// Before returns what goes ahead of a frame.
func (s *Sender) Before() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.take()
}

// After returns what goes behind a frame, in the same update: where a terminal lets letters wipe out what stood over
// them, the pictures that stay are there again.
func (s *Sender) After() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.up {
		return nil
	}
	s.again = false
	return s.wrapped(s.places())
}

// Next returns the next piece to write when nothing else is to be written, nil for nothing.
func (s *Sender) Next() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case s.due.Len() > 0:
		return s.take()
	case len(s.way) > 0:
		if now := s.now(); len(s.held) == 0 {
			s.begun = now
		} else if s.most > 0 && now.Sub(s.begun) > s.most {
			s.slow = true
			s.drop()
			return s.take()
		}
		p := s.way[0]
		s.way = s.way[1:]
		if s.open = p.more; !slices.Contains(s.held, p.id) {
			s.held = append(s.held, p.id)
		}
		return s.wrapped(string(p.code))
	case len(s.list) > 0 && !s.whole:
		s.whole, s.up = true, true
		return s.wrapped(together(s.places()))
	case s.again:
		s.again = false
		return s.wrapped(together(s.places()))
	}
	return nil
}

// Leave frees everything, and returns what is to be written for it.
func (s *Sender) Leave() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop()
	return s.take()
}

// Mend returns what frees everything, whatever was written of what was to be written.
func (s *Sender) Mend() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop()
	s.due.Reset()
	if s.used > 0 {
		s.due.WriteString(cutShort)
	}
	for i := range s.used {
		s.due.WriteString(free(firstID + i))
	}
	return s.take()
}

func (s *Sender) take() []byte {
	code := s.due.String()
	s.due.Reset()
	return s.wrapped(code)
}

func (s *Sender) places() string {
	var b strings.Builder
	for i := range s.list {
		b.WriteString(s.list[i].place())
	}
	return b.String()
}

// together makes one update of codes, so that no picture is seen before another.
func together(code string) string { return "\x1b[?2026h" + code + "\x1b[?2026l" }

func (s *Sender) wrapped(code string) []byte {
	switch {
	case code == "":
		return nil
	case s.wrap != nil:
		return s.wrap([]byte(code))
	}
	return []byte(code)
}
