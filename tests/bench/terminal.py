# SPDX-License-Identifier: MIT
"""The real program on a terminal of 80 columns and 24 rows: keys typed, bytes and processor counted."""
import fcntl, os, pty, select, struct, subprocess, sys, termios, time

KEYS = {"Enter": "\r", "Down": "\x1bOB", "Right": "\x1bOC", "PageDown": "\x1b[6~"}
QUIET_S, LIMIT_S = 0.015, 300


class Terminal:
    def __init__(self, command):
        self.received = 0
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.began = time.monotonic()
        self.child = subprocess.Popen(command, stdin=slave, stdout=slave, stderr=slave, env=dict(
            os.environ, TERM="xterm-256color", LANG="C.UTF-8"), start_new_session=True)
        os.close(slave)

    def read(self, seconds):
        """What came within so many seconds; nothing, and it may be asleep or at work."""
        if not select.select([self.master], [], [], seconds)[0]:
            return b""
        try:
            got = os.read(self.master, 65536)
        except OSError:
            sys.exit("the program left its terminal")
        self.received += len(got)
        return got

    def expect(self, shows):
        seen = b""
        while shows not in seen:
            got = self.read(LIMIT_S)
            if not got:
                sys.exit(f"{shows.decode()} did not come")
            seen += got

    def is_at_work(self):
        with open(f"/proc/{self.child.pid}/stat") as file:
            return file.read().rpartition(")")[2].split()[0] in "RD"

    def settle(self, seconds):
        """Until it is asleep and silent; False: still at work after so many seconds."""
        began = last = time.monotonic()
        while time.monotonic() - last < QUIET_S:
            if time.monotonic() - began > seconds:
                return False
            if self.read(QUIET_S) or self.is_at_work():
                last = time.monotonic()
        return True

    def press(self, key, seconds=LIMIT_S):
        """(milliseconds of processor, bytes to the terminal) until it rests again"""
        used, received = self.processor_ms(), self.received
        os.write(self.master, KEYS.get(key, key).encode())
        self.settle(seconds)
        return self.processor_ms() - used, self.received - received

    def processor_ms(self):
        return time.clock_gettime((~self.child.pid << 3) | 2) * 1000  # as clock_getcpuclockid() makes it

    def peak_mb(self):
        with open(f"/proc/{self.child.pid}/status") as file:
            return next(int(line.split()[1]) for line in file if line.startswith("VmHWM")) / 1024

    def end(self):
        """(seconds by the clock, of processor, peak kB), so far"""
        cost = time.monotonic() - self.began, self.processor_ms() / 1000, self.peak_mb() * 1024
        self.child.kill()
        self.child.wait()
        os.close(self.master)
        return cost
