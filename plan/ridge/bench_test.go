package ridge

import (
	"context"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"

	"example.org/skywedge/plan/ridge/ridgetest"
)

// A rough land of fine tiles all round, as far as land can be seen: 63 tiles, on disk. They share one file, so that the
// disk need not hold more than that.
func BenchmarkLook(b *testing.B) {
	for _, c := range []struct {
		name  string
		tiles [4]int // corners from lat, lon to lat, lon
		rise  float64
	}{
		{"nine tiles of hills", [4]int{42, -10, 44, -8}, 300},
		{"nine tiles, low", [4]int{42, -10, 44, -8}, 10},
		{"land all round, low", [4]int{39, -14, 47, -4}, 10},
		{"land all round, mountains", [4]int{39, -14, 47, -4}, 2000},
	} {
		dir := b.TempDir()
		l := &ridgetest.Land{Tiles: map[string]int{"N43W009.hgt": finePosts}, Height: func(lat, lon float64) float64 {
			return c.rise * (1.2 + math.Sin(lat*200)*math.Cos(lon*170)*math.Sin(lat*31+lon*23))
		}}
		f, err := l.Open("N43W009.hgt")
		if err != nil {
			b.Fatal(err)
		}
		data := make([]byte, bytesOf(finePosts))
		const row = 2 * finePosts
		for at := 0; at < len(data); at += row {
			f.(io.ReaderAt).ReadAt(data[at:at+row], int64(at))
		}
		first := filepath.Join(dir, "tile")
		if err := os.WriteFile(first, data, 0o600); err != nil {
			b.Fatal(err)
		}
		for lat := c.tiles[0]; lat <= c.tiles[2]; lat++ {
			for lon := c.tiles[1]; lon <= c.tiles[3]; lon++ {
				if err := os.Link(first, filepath.Join(dir, corner{lat, lon}.String()+".hgt")); err != nil {
					b.Fatal(err)
				}
			}
		}
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				folder, err := Open(os.DirFS(dir))
				if err != nil {
					b.Fatal(err)
				}
				line, err := folder.Look(context.Background(), From{LatDeg: 43.3672, LonDeg: -8.4604, EyeM: 1.7})
				if err != nil {
					b.Fatal(err)
				}
				folder.Close()
				b.ReportMetric(float64(len(line.Tiles)), "tiles")
				b.ReportMetric(line.FarKm, "km")
			}
		})
	}
}
