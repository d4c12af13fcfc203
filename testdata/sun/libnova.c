/* Where the sun stands, by libnova: 400 moments of 2025 to 2035 and places on Earth,
 * chosen by a fixed generator, one a line. It is what engine/sun is compared with.
 *
 *	cc libnova.c -lnova -lm -o reference && ./reference > libnova.csv
 */
#include <libnova/dynamical_time.h>
#include <libnova/precession.h>
#include <libnova/solar.h>
#include <libnova/transform.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>

static uint64_t state = 20270503;

/* Steps of a linear congruential generator; the high bits are the good ones. */
static double uniform(double low, double high)
{
	state = state * 6364136223846793005u + 1442695040888963407u;
	return low + (high - low) * (double)(state >> 11) / 9007199254740992.0;
}

int main(void)
{
	puts("unix_s,latitude_deg,longitude_deg,altitude_deg,azimuth_deg");
	for (int i = 0; i < 400; i++) {
		double unix_s = floor(uniform(1735689600, 2051222400));
		double longitude = uniform(-180, 180);
		double latitude = uniform(-89, 89);
		struct ln_lnlat_posn observer = { .lng = longitude, .lat = latitude };
		double now = 2440587.5 + unix_s / 86400;
		struct ln_equ_posn j2000, of_date;
		struct ln_hrz_posn place;

		/* Its solar coordinates are for the equinox of 2000. */
		ln_get_solar_equ_coords(ln_get_jde(now), &j2000);
		ln_get_equ_prec(&j2000, now, &of_date);
		ln_get_hrz_from_equ(&of_date, &observer, now, &place);

		/* Its azimuth counts from south. */
		printf("%.0f,%.6f,%.6f,%.4f,%.4f\n", unix_s, observer.lat, observer.lng, place.alt, fmod(place.az + 180, 360));
	}
	return 0;
}
