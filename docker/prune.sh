#!/bin/sh -e
# Takes out of a folder of installed packages what neither serving nor drawing loads: sh prune.sh FOLDER
# Tests, sample data, compilers' headers and sources, tools that wrap Fortran, fonts that no drawing uses, icons of
# windows and a decoder of AVIF pictures. Of the library of fonts the drawing library loads the names of glyphs alone;
# its compiled parts have twins in Python. The font of last resort is opened before anything is drawn.
# What is left must draw every sample: tests/deployment/test_pruned.py, and in the image tests.deployment.image.
folder=$1
find "$folder" -type d \( -name tests -o -path "*/gevent/testing" -o -path "*/numpy/f2py" -o -path "*/numpy/distutils" \
  -o -name sample_data -o -path "*/mpl-data/fonts/afm" -o -path "*/mpl-data/fonts/pdfcorefonts" \
  -o -path "*/mpl-data/images" \) -prune -exec rm -rf {} +
find "$folder" \( -name "*.pyi" -o -name "*.pxd" -o -name "*.pyx" -o -name "*.c" -o -name "*.h" -o -name "*.a" \) -delete
find "$folder" \( -path "*/PIL/_avif*" -o -path "*/pillow.libs/libavif*" -o -path "*/numpy/_core/_simd.*" \
  -o -path "*/fontTools/*.so" \) -delete
find "$folder" -path "*/mpl-data/fonts/ttf/*.ttf" ! -name "DejaVuSans*" ! -name "LastResort*" -delete
