#!/bin/sh -e
# Takes out of a folder of installed packages what neither serving nor drawing loads: sh prune.sh FOLDER
# What is left must draw every sample: tests/deployment/test_pruned.py, and in the image tests.deployment.image.
folder=$1

# What an installer would need to take a package away again; the bill of materials has been written by then.
find "$folder" -path "*.dist-info/RECORD" -delete

# Tests, sample data, tools that wrap Fortran; what compilers and type checkers read.
find "$folder" -type d \( -name tests -o -name sample_data -o -path "*/gevent/testing" -o -path "*/numpy/f2py" \
  -o -path "*/numpy/distutils" \) -prune -exec rm -rf {} +
find "$folder" \( -name "*.pyi" -o -name "*.pxd" -o -name "*.pyx" -o -name "*.c" -o -name "*.h" -o -name "*.a" \
  -o -name "*.cpp" -o -name "*.hpp" -o -name "*.obj" -o -name "*.asm" \) -delete
find "$folder" -path "*/numpy/_core/_simd.*" -delete

# Of the library of arrays: random numbers, spectra, what helps its own tests.
find "$folder" -type d \( -path "*/numpy/random" -o -path "*/numpy/fft" -o -path "*/numpy/testing" \) -prune -exec rm -rf {} +

# Of the library of events: another loop and another resolver of names; no name is resolved.
find "$folder" \( -path "*/gevent/libuv/*.so" -o -path "*/gevent/resolver/cares*.so" \) -delete

# What draws in windows, in another format, or triangles; fonts that no drawing uses (that of last resort is opened before
# anything is drawn).
find "$folder" -path "*/matplotlib/backends/backend_*.py" ! -name backend_agg.py ! -name backend_mixed.py \
  ! -name backend_svg.py -delete
find "$folder" \( -path "*/matplotlib/_tri.*" -o -path "*/matplotlib/_qhull.*" -o -path "*/matplotlib/backends/_tkagg*" \) -delete
find "$folder" -type d \( -path "*/mpl-data/fonts/afm" -o -path "*/mpl-data/fonts/pdfcorefonts" \
  -o -path "*/mpl-data/images" -o -path "*/matplotlib/backends/web_backend" \
  -o -path "*/matplotlib/backends/qt_editor" -o -path "*/matplotlib/testing" -o -path "*/matplotlib/sphinxext" \
  -o -path "*/mpl_toolkits/axisartist" -o -path "*/mpl_toolkits/axes_grid1" \) -prune -exec rm -rf {} +
find "$folder" -path "*/mpl-data/fonts/ttf/*.ttf" ! -name DejaVuSans.ttf ! -name DejaVuSans-Bold.ttf \
  ! -name "LastResort*" -delete

# Of the library of fonts the drawing library loads the names of glyphs alone, and with them how it logs and quotes.
find "$folder" -path "*/fontTools/*" -type d ! -name misc ! -name __pycache__ -prune -exec rm -rf {} +
find "$folder" -path "*/fontTools/misc/*.so" -delete

# Of the library of pictures: what reads AVIF and WebP, sets type, shows in windows, computes or turns colours.
find "$folder" \( -path "*/PIL/_avif*" -o -path "*/PIL/_webp*" -o -path "*/PIL/_imagingft*" -o -path "*/PIL/_imagingcms*" \
  -o -path "*/PIL/_imagingtk*" -o -path "*/PIL/_imagingmath*" -o -path "*/PIL/_imagingmorph*" \
  -o -path "*/pillow.libs/libavif*" -o -path "*/pillow.libs/libwebp*" -o -path "*/pillow.libs/libsharpyuv*" \
  -o -path "*/pillow.libs/libfreetype*" -o -path "*/pillow.libs/libharfbuzz*" -o -path "*/pillow.libs/libpng*" \
  -o -path "*/pillow.libs/libbrotli*" -o -path "*/pillow.libs/liblcms2*" \) -delete
