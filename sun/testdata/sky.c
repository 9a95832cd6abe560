/* The sky kernel in plain C, for comparison: degree, direction of E and relative radiance of a clear sky along many rays,
 * by the formulas of pattern.go and sky.go with the C library's own exp and acos.
 *
 * usage: sky FILE TIMES   FILE holds doubles: 21 numbers of the pattern, then x y z of each ray
 * Prints the nanoseconds of the quickest round over all rays, and the sum of all results.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

typedef struct { double x, y, z; } vec;

typedef struct {
	vec sun, square, above, below;
	double between, sin2above, sin2below, pmax, beta, dulling, tau, floor, halo0;
} pattern;

static inline double dot(vec a, vec b) { return a.x*b.x + a.y*b.y + a.z*b.z; }
static inline vec cross(vec a, vec b) {
	vec c = { a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x };
	return c;
}
static inline double clip(double x, double lo, double hi) { return x < lo ? lo : x > hi ? hi : x; }

static double look(const pattern *p, vec d) {
	double c = dot(d, p->sun);
	double halo = exp(-3 * acos(clip(c, -1, 1)));
	double el = d.z > p->floor ? d.z : p->floor;
	double peak = 1 + 16*(halo - p->halo0) + 0.30*c*c;

	double cb = dot(d, p->above), cr = dot(d, p->below);
	double ww = (1 - cb*cb) * (1 - cr*cr), w = ww > 0 ? sqrt(ww) : 0;
	double s = 1 - c*c;
	if (!(s > 1e-12)) s = 1e-12;
	double q = dot(d, p->square);
	q *= q;
	double whole = sqrt((s - p->sin2above*q) * (s - p->sin2below*q));
	double share = w*s < whole ? w*s : whole;
	double dull = 1 - p->dulling * exp(-el / 0.17);
	double air = (1 - p->beta) * p->pmax;
	double degree = p->pmax * share * dull / ((1 - p->beta + air + p->beta*peak)*whole - air*share);

	vec e = { 1, 0, 0 };
	if (w >= 1e-9) {
		double bb = 1 - cr*cr;
		vec a = cross(d, p->above), b = cross(d, p->below);
		if (p->between >= cb*cr) {
			e.x = a.x*bb + b.x*w; e.y = a.y*bb + b.y*w; e.z = a.z*bb + b.z*w;
		} else {
			vec f = { a.x*bb - b.x*w, a.y*bb - b.y*w, a.z*bb - b.z*w };
			e = cross(d, f);
		}
		double n = 1 / sqrt(dot(e, e));
		e.x *= n; e.y *= n; e.z *= n;
	}
	double radiance = ((1 - p->beta)*(1 + p->pmax*c*c) + p->beta*peak) * (1 - exp(-p->tau / el));
	return degree + e.x + e.y + e.z + radiance;
}

int main(int argc, char **argv) {
	if (argc != 3) return 2;
	FILE *f = fopen(argv[1], "rb");
	if (!f) return 2;
	pattern p;
	if (fread(&p, sizeof p, 1, f) != 1) return 2;
	vec *d = malloc(sizeof(vec) << 16);
	size_t n = fread(d, sizeof *d, 1 << 16, f);
	double sum = 0, best = 1e30;
	for (int i = atoi(argv[2]); i > 0; i--) {
		struct timespec a, b;
		sum = 0;
		clock_gettime(CLOCK_MONOTONIC, &a);
		for (size_t k = 0; k < n; k++) sum += look(&p, d[k]);
		clock_gettime(CLOCK_MONOTONIC, &b);
		double ns = 1e9 * (double)(b.tv_sec - a.tv_sec) + (double)(b.tv_nsec - a.tv_nsec);
		if (ns < best) best = ns;
	}
	printf("%.0f %.12g\n", best, sum);
	return 0;
}
