#!/bin/sh
# Makes the pictures beside it, with ImageMagick 6.9.11 and libjpeg-turbo 2.1.5.
set -e
cd "$(dirname "$0")"
convert -size 48x32 gradient:red-blue -interlace JPEG -quality 80 -strip progressive.jpg
convert -size 48x32 gradient:red-blue -sampling-factor 4:2:0 -quality 80 -strip baseline.jpg
convert -size 48x32 gradient:black-white -colorspace Gray -quality 80 -strip grey.jpg
convert -size 48x32 gradient:red-blue -colorspace CMYK -quality 80 -strip cmyk.jpg
jpegtran -restart 1B -copy none -outfile restart.jpg baseline.jpg
