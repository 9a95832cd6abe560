// Package once keeps values that are made when they are first asked for, and only once, also where several workers ask.
package once

import (
	"sync"
	"sync/atomic"
)

// Bounded keeps one value for each key, for as long as the program runs: no more than so many, and it begins anew when there
// would be more. Whoever has a value keeps it. A value depends on nothing but its key, so that it does not matter which worker
// makes it; one that asks for a value in the making waits for it, and others go on.
type Bounded[K comparable, V any] struct {
	most int
	mu   sync.RWMutex
	kept map[K]*entry[V]
}

// Most returns a [Bounded] of so many values.
func Most[K comparable, V any](most int) *Bounded[K, V] { return &Bounded[K, V]{most: most} }

type entry[V any] struct {
	once  sync.Once
	done  atomic.Bool
	value V
}

// Get returns the value of a key, which is made if it is not there.
func (m *Bounded[K, V]) Get(key K, made func() V) V {
	m.mu.RLock()
	e := m.kept[key]
	m.mu.RUnlock()
	if e == nil {
		e = m.add(key)
	}
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

func (m *Bounded[K, V]) add(key K) *entry[V] {
	m.mu.Lock()
	defer m.mu.Unlock()
	if e := m.kept[key]; e != nil {
		return e
	}
	if m.kept == nil || len(m.kept) >= m.most {
		m.kept = map[K]*entry[V]{}
	}
	e := new(entry[V])
	m.kept[key] = e
	return e
}

// Len returns how many values are kept.
func (m *Bounded[K, V]) Len() int {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return len(m.kept)
}

// Forget lets go of all values.
func (m *Bounded[K, V]) Forget() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.kept = nil
}
