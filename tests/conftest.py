"""What every test starts from."""

import signal

# a run in the background of a script is started deaf to interrupts, and its children inherit that
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
