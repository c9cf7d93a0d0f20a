// Package picture turns a photo file into upright pixels in linear light.
//
// [Decode] reads JPEG, HEIC, PNG, WebP and TIFF, and refuses a picture that is too large before it
// decodes anything. [Picture.Row] reads pixels straight from the decoded planes, turned
// upright and without the tone curve of sRGB or of the photo's colour profile, so that they can be
// averaged. [Picture.SRGB] converts averages from the photo's own primaries, which are those of
// Display P3 on recent phones.
//
// Transparency is ignored: a photo has nothing behind it, and a cut-out keeps the colours that
// it was cut from.
package picture
