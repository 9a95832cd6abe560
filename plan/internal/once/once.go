// Package once keeps values that are made when they are first asked for, and only once, also where several workers ask.
package once

import (
	"sync"
	"sync/atomic"
)

// Map keeps one value for each key. The zero value is ready. A value depends on nothing but its key, so that it does not
// matter which worker makes it; one that asks for a value in the making waits for it, and others go on.
type Map[K comparable, V any] struct {
	mu   sync.Mutex
	kept map[K]*entry[V]
}

type entry[V any] struct {
	once  sync.Once
	done  atomic.Bool
	value V
}

// Get returns the value of a key, which is made if nobody has asked for it before.
func (m *Map[K, V]) Get(key K, made func() V) V {
	m.mu.Lock()
	e := m.kept[key]
	if e == nil {
		if m.kept == nil {
			m.kept = map[K]*entry[V]{}
		}
		e = new(entry[V])
		m.kept[key] = e
	}
	m.mu.Unlock()
	if !e.done.Load() {
		e.make(made)
	}
	return e.value
}

// make is apart from Get, which allocates nothing where the value is there.
func (e *entry[V]) make(made func() V) {
	e.once.Do(func() {
		e.value = made()
		e.done.Store(true)
	})
}
