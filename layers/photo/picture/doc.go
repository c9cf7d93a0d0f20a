// Package picture turns a photo file into upright pixels in linear light.
//
// [Decode] reads JPEG, PNG, WebP and TIFF. It refuses what would cost too much before
// anything is decoded. [Picture.Row] then reads pixels straight from the decoded planes,
// turned as the camera was held (EXIF Orientation) and freed of the sRGB curve, so that
// they can be averaged. [Picture.SRGB] carries averages over from the photo's own
// primaries, which on recent phones are those of Display P3.
//
// Transparency is left out: a photo has nothing behind it to shine through, and a cut-out
// shows the colours that it was cut from.
package picture
