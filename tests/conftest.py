"""Settings that every test shares; the program makes the same one for itself."""

import os

# Small matrices, two cores: one thread, said before numpy is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
