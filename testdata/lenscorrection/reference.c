/* What the C library of the open lens-correction database (release 0.3) makes of lenses,
 * one JSON object a line, for catalog/lenscorrection to be compared with.
 *
 *   cc -o reference reference.c -llensfun -lm
 *   reference            invented lenses, whose coefficients stand in the output
 *   reference FILE...    every lens of the database's own files
 *
 * A picture point is given by its distance from the middle in pixels, along the row, of a
 * picture whose pixels are counted centre to centre. */

#include <lensfun/lensfun.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const float no_aperture = 8, no_distance = 1000;

/* A picture: pixels and the crop factor of its sensor. */
struct picture {
	int width, height;
	float crop;
};

static float distorted(const lfLens *lens, float focal, struct picture p, float radius)
{
	lfModifier *m = lf_modifier_new(lens, p.crop, p.width, p.height);
	lf_modifier_initialize(m, lens, LF_PF_U8, focal, no_aperture, no_distance, 1, lens->Type, LF_MODIFY_DISTORTION, 0);
	float x = (p.width - 1) / 2.0, y = (p.height - 1) / 2.0, out[2] = {x + radius, y};
	lf_modifier_apply_geometry_distortion(m, x + radius, y, 1, 1, out);
	lf_modifier_destroy(m);
	return out[0] - x;
}

/* brightness against the middle, of a point of a row through the middle */
static float brightness(const lfLens *lens, float focal, float aperture, float distance, struct picture p, float radius)
{
	lfModifier *m = lf_modifier_new(lens, p.crop, p.width, p.height);
	lf_modifier_initialize(m, lens, LF_PF_F32, focal, aperture, distance, 1, lens->Type, LF_MODIFY_VIGNETTING, 0);
	float x = (p.width - 1) / 2.0, y = (p.height - 1) / 2.0, pixel[3] = {1, 1, 1};
	lf_modifier_apply_color_modification(m, pixel, x + radius, y, 1, 1, LF_CR_3(RED, GREEN, BLUE), sizeof pixel);
	lf_modifier_destroy(m);
	return pixel[0] > 0 && pixel[0] < 1e6 ? 1 / pixel[0] : 0; /* 0 where the model has no light left */
}

static const char *model_name(enum lfDistortionModel model)
{
	switch (model) {
	case LF_DIST_MODEL_POLY3: return "poly3";
	case LF_DIST_MODEL_POLY5: return "poly5";
	case LF_DIST_MODEL_PTLENS: return "ptlens";
	default: return "none";
	}
}

static void print_distortion(const char *head, const lfLens *lens, float focal, struct picture p)
{
	lfLensCalibDistortion d;
	if (!lf_lens_interpolate_distortion(lens, focal, &d) || d.Model == LF_DIST_MODEL_NONE)
		return;
	printf("{%s,\"focal\":%.9g,\"model\":\"%s\",\"terms\":[%.9g,%.9g,%.9g],\"width\":%d,\"height\":%d,\"crop\":%.9g,\"distorted\":[",
		head, focal, model_name(d.Model), d.Terms[0], d.Model == LF_DIST_MODEL_POLY3 ? 0 : d.Terms[1],
		d.Model == LF_DIST_MODEL_PTLENS ? d.Terms[2] : 0, p.width, p.height, p.crop);
	for (int i = 1; i <= 4; i++) {
		float radius = (p.width - 1) / 2.0 * i / 4;
		printf("%s[%.9g,%.9g]", i > 1 ? "," : "", radius, distorted(lens, focal, p, radius));
	}
	printf("]}\n");
}

static void print_shading(const char *head, const lfLens *lens, float focal, float aperture, float distance, struct picture p)
{
	lfLensCalibVignetting v;
	if (!lf_lens_interpolate_vignetting(lens, focal, aperture, distance, &v))
		return;
	printf("{%s,\"focal\":%.9g,\"aperture\":%.9g,\"distance\":%.9g,\"terms\":[%.9g,%.9g,%.9g],\"width\":%d,\"height\":%d,\"crop\":%.9g,\"brightness\":[",
		head, focal, aperture, distance, v.Terms[0], v.Terms[1], v.Terms[2], p.width, p.height, p.crop);
	for (int i = 1; i <= 2; i++) {
		float radius = (p.width - 1) / 2.0 * i / 2;
		printf("%s[%.9g,%.9g]", i > 1 ? "," : "", radius, brightness(lens, focal, aperture, distance, p, radius));
	}
	printf("]}\n");
}

/* An invented lens: up to five calibrations. */
struct invented {
	const char *name;
	float crop, aspect;
	enum lfDistortionModel model;
	struct { float focal, terms[3]; } distortion[5];
	struct { float focal, aperture, distance, terms[3]; } shading[5];
	float ask[4]; /* focal lengths to ask for */
};

static const struct invented lenses[] = {
	{"prime", 1.62, 1.5, LF_DIST_MODEL_POLY3, {{35, {-0.0052}}}, {{0}}, {35}},
	{"zoom", 1, 1.5, LF_DIST_MODEL_PTLENS,
		{{16, {0.007, -0.017, -0.016}}, {20, {0.012, -0.022, 0.004}}, {24, {0.011, -0.021, 0.012}}, {35, {0.004, -0.009, 0.008}}},
		{{16, 2.8, 10, {-0.3, -1.2, 0.7}}, {16, 5.6, 10, {-0.4, -0.1, 0.02}}, {35, 2.8, 10, {-0.5, -0.2, 0.1}}, {35, 2.8, 1000, {-0.6, -0.1, 0.05}}, {24, 8, 1000, {-0.3, 0.01, 0.0}}},
		{16, 18, 21.5, 29}},
	{"small", 4.6, 1.3333, LF_DIST_MODEL_POLY5, {{6.1, {-0.03, 0.0045}}, {18, {-0.004, 0.0002}}}, {{0}}, {6.1, 9.5, 30}},
	{"moustache", 1, 1.5, LF_DIST_MODEL_PTLENS, {{24, {0.0144, -0.066, 0.0644}}}, {{0}}, {24, 20}},
};

static const struct picture pictures[] = {{3601, 2401, 1}, {3841, 2161, 1.5}, {3201, 2401, 4.6}};

static void print_invented(void)
{
	for (size_t i = 0; i < sizeof lenses / sizeof *lenses; i++) {
		const struct invented *in = &lenses[i];
		lfLens *lens = lf_lens_new();
		lens->CropFactor = in->crop;
		lens->AspectRatio = in->aspect;
		lens->Type = LF_RECTILINEAR;
		printf("{\"lens\":\"%s\",\"crop\":%.9g,\"aspect\":%.9g,\"model\":\"%s\",\"distortion\":[", in->name, in->crop, in->aspect, model_name(in->model));
		for (int j = 0; j < 5 && in->distortion[j].focal; j++) {
			lfLensCalibDistortion d = {in->model, in->distortion[j].focal};
			memcpy(d.Terms, in->distortion[j].terms, sizeof d.Terms);
			lf_lens_add_calib_distortion(lens, &d);
			printf("%s[%.9g,%.9g,%.9g,%.9g]", j ? "," : "", d.Focal, d.Terms[0], d.Terms[1], d.Terms[2]);
		}
		printf("],\"shading\":[");
		for (int j = 0; j < 5 && in->shading[j].focal; j++) {
			lfLensCalibVignetting v = {LF_VIGNETTING_MODEL_PA, in->shading[j].focal, in->shading[j].aperture, in->shading[j].distance};
			memcpy(v.Terms, in->shading[j].terms, sizeof v.Terms);
			lf_lens_add_calib_vignetting(lens, &v);
			printf("%s[%.9g,%.9g,%.9g,%.9g,%.9g,%.9g]", j ? "," : "", v.Focal, v.Aperture, v.Distance, v.Terms[0], v.Terms[1], v.Terms[2]);
		}
		printf("]}\n");
		lf_lens_guess_parameters(lens);
		char head[64];
		snprintf(head, sizeof head, "\"of\":\"%s\"", in->name);
		for (int j = 0; j < 4 && in->ask[j]; j++)
			for (size_t k = 0; k < sizeof pictures / sizeof *pictures; k++)
				if (pictures[k].crop >= in->crop) {
					print_distortion(head, lens, in->ask[j], pictures[k]);
					print_shading(head, lens, in->ask[j], 4, 5, pictures[k]);
				}
		lf_lens_destroy(lens);
	}
}

/* a text between quotes, as JSON has it */
static void print_text(const char *text)
{
	putchar('"');
	for (; *text; text++) {
		if (*text == '"' || *text == '\\')
			putchar('\\');
		putchar(*text);
	}
	putchar('"');
}

static void print_file(const char *file)
{
	lfDatabase *db = lf_db_new();
	if (lf_db_load_file(db, file) != LF_NO_ERROR)
		exit(1);
	const char *base = strrchr(file, '/') ? strrchr(file, '/') + 1 : file;
	const lfLens *const *all = lf_db_get_lenses(db);
	for (int i = 0; all[i]; i++) {
		const lfLens *lens = all[i];
		char head[256];
		snprintf(head, sizeof head, "\"of\":\"%s:%d\"", base, i);
		printf("{\"lens\":\"%s:%d\",\"file\":\"%s\",\"maker\":", base, i, base);
		print_text(lens->Maker);
		printf(",\"name\":");
		print_text(lens->Model);
		printf(",\"crop\":%.9g,\"aspect\":%.9g,\"focal_low\":%.9g,\"focal_high\":%.9g}\n",
			lens->CropFactor, lens->AspectRatio, lens->MinFocal, lens->MaxFocal);
		struct picture p = {3601, 2401, lens->CropFactor};
		float low = lens->MinFocal, high = lens->MaxFocal;
		print_distortion(head, lens, low, p);
		print_shading(head, lens, low, 4, 5, p);
		if (high > low) {
			print_distortion(head, lens, low + (high - low) * 0.3f, p);
			print_distortion(head, lens, high, p);
			print_shading(head, lens, low + (high - low) * 0.3f, 5.6, 100, p);
		}
	}
	lf_db_destroy(db);
}

int main(int argc, char **argv)
{
	if (argc < 2)
		print_invented();
	for (int i = 1; i < argc; i++)
		print_file(argv[i]);
	return 0;
}
