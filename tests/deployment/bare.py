"""The server with the packages on PYTHONPATH alone, without those that are installed where its interpreter is."""

import os
import sys

if __name__ == "__main__":
    os.execv(sys.executable, [sys.executable, "-S", "-m", "service", *sys.argv[1:]])
