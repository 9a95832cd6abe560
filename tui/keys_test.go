package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

func TestTheTableOfKeysIsWhole(t *testing.T) {
	views := newViews()
	table := newKeyTable(&views)
	for i, b := range table.rows {
		if b.help == "" || b.shown == "" || b.do == nil || b.where == 0 {
			t.Errorf("row %d (%s) is not complete", i, b.keys)
		}
		if b.foot != "" && b.weight == 0 {
			t.Errorf("%s stands on the bottom line without a weight", b.keys)
		}
		// A later row that can never be reached is a mistake.
		for p := inShot; p <= inEdit; p <<= 1 {
			if b.where&p == 0 {
				continue
			}
			for _, k := range strings.Fields(b.keys) {
				if table.at(p, k) != &table.rows[i] {
					t.Errorf("%q in scope %d is taken by the row %q", k, p, table.at(p, k).help)
				}
			}
		}
	}
}

// What a person must always be able to do, in every pane, by a plain key.
func TestEveryPaneHasTheCommonKeys(t *testing.T) {
	views := newViews()
	table := newKeyTable(&views)
	for p := inShot; p < inEdit; p <<= 1 {
		for _, k := range []string{"up", "down", "j", "k", "tab", "shift+tab", "?", "q", "u", "ctrl+r", "s", "esc", "n", "p", ",", ".", "ctrl+c", "ctrl+z"} {
			if table.at(p, k) == nil {
				t.Errorf("%q does nothing in scope %d", k, p)
			}
		}
		for _, k := range []string{"[", "]", "{", "}"} {
			if table.at(p, k) != nil {
				t.Errorf("%q is hard to type on many keyboards", k)
			}
		}
	}
	for p := inShot; p <= inTrip; p <<= 1 {
		for v := range viewCount {
			b := table.at(p, fmt.Sprint(v+1))
			if has := v == viewShot || views.all[v] != nil; p != inEdit && has != (b != nil) {
				t.Errorf("view %d in scope %d: there is %v, bound %v", v+1, p, has, b != nil)
			}
			if p == inEdit && b != nil {
				t.Error("digits are text while a field is typed")
			}
		}
	}
}

func TestTheBottomLineKeepsTheWayToAllKeys(t *testing.T) {
	for w := panel.MinCols; w <= 200; w += 7 {
		m := testModel(t, w, 24, nil)
		for range paneCount {
			lines := strings.Split(screenText(m), "\n")
			if foot := lines[len(lines)-1]; !strings.Contains(foot, "? all keys") {
				t.Errorf("%d columns, pane %d: %q", w, m.focus, foot)
			}
			press(m, "tab")
		}
	}
}

// keyList returns the table of keys as a table in Markdown, for the page of keys.
func keyList() string {
	views := newViews()
	table := newKeyTable(&views)
	var b strings.Builder
	type group struct {
		title string
		where scope
	}
	groups := []group{
		{"Everywhere", everywhere}, {"Shot", inShot}, {"Legs", inLegs}, {"Through the lens", inLens},
		{"Along the flight", inFlight}, {"The call", inCall}, {"While typing in a field", inEdit},
		{"While a take-off is kept", inClock}, {"On the tour", inTour},
	}
	for _, v := range views.existing()[1:] {
		groups = append(groups, group{fmt.Sprintf("View %d, %s", v+1, lower(views.name(v))), inView(v)})
		if v == viewFilters {
			groups = append(groups, group{"The bag's fields, in view 3", inBag}, group{"Measuring a filter, in view 3", inMeasuring})
		}
	}
	for _, g := range groups {
		fmt.Fprintf(&b, "**%s**\n\n| key | what it does |\n| --- | --- |\n", g.title)
		for _, k := range table.rows {
			all := k.where.all()
			if g.where == everywhere && all || g.where != everywhere && k.where&g.where != 0 && !all {
				fmt.Fprintf(&b, "| `%s` | %s |\n", strings.Join(strings.Fields(k.shown), "` `"), k.help)
			}
		}
		b.WriteString("\n")
	}
	return strings.TrimRight(b.String(), "\n") + "\n"
}

func TestKeyListNamesEveryRow(t *testing.T) {
	list := keyList()
	views := newViews()
	for _, b := range newKeyTable(&views).rows {
		if !strings.Contains(list, "| "+b.help+" |") {
			t.Errorf("%q is missing", b.help)
		}
	}
	if strings.Contains(list, "||") || !strings.HasSuffix(list, "|\n") {
		t.Error("the list is not a table")
	}
}

func TestTheListOfKeysFitsItsPane(t *testing.T) {
	m := testModel(t, 60, 20, nil)
	for range paneCount {
		press(m, "?")
		seen := ""
		for range 90 {
			seen += screenText(m)
			press(m, "down")
		}
		for _, b := range m.table.rows {
			if b.where&m.here() == 0 {
				continue
			}
			for _, word := range cells.Wrap(b.help, 40) {
				if !strings.Contains(seen, strings.Fields(word)[0]) {
					t.Errorf("pane %d: the list never shows %q", m.focus, b.help)
				}
			}
		}
		press(m, "esc", "tab")
	}
}
