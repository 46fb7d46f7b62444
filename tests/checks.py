# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts what holds and prints what does not; runs the program in a folder of its own."""
import os
import subprocess


class Checks:
    def __init__(self, program, folder):
        self.program, self.folder = os.path.abspath(program), folder
        self.count = self.failed = 0

    def holds(self, what, condition, shown=""):
        self.count += 1
        if not condition:
            self.failed += 1
            print(f"{what}\n    {str(shown)[:600]!r}")

    def path(self, name):
        return os.path.join(self.folder, name)

    def write(self, name, text):
        with open(self.path(name), "w", encoding="utf-8") as file:
            file.write(text)
        return self.path(name)

    def run(self, *words, text=None):
        return subprocess.run([self.program, *words], capture_output=True, timeout=120, input=text, cwd=self.folder)

    def read(self, *words):
        """The same, what it says as text."""
        return subprocess.run([self.program, *words], capture_output=True, timeout=120, cwd=self.folder, encoding="utf-8",
                              errors="replace")
