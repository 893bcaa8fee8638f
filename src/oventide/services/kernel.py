"""One run of the timeline at a time, the warming one included: the kernels take every core by themselves."""

import threading

KERNEL = threading.Lock()
