"""One run of the timeline at a time, the warming one included: the kernels take every core by themselves."""

import threading
import time

KERNEL = threading.Lock()
_A_MOMENT_S = 0.002


def give_way() -> None:
    """Between two steps of a long run that holds `KERNEL`: let a short one in that waits for it."""
    KERNEL.release()
    time.sleep(_A_MOMENT_S)
    KERNEL.acquire()
