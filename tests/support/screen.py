"""A screen without a monitor, and pictures of it."""
import os
import pathlib
import struct
import subprocess
import zlib


class Screen:
    """Xvfb on a display of its own; `environment` is for programs that should show on it."""

    def __init__(self, folder, width=1280, height=960):
        self.folder = pathlib.Path(folder)
        self.size = f"{width}x{height}x24"

    def __enter__(self):
        read, write = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-dpi", "96", "-screen", "0", self.size,
             "-fbdir", str(self.folder), "-nolisten", "tcp"],
            pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as answer:
            self.display = answer.readline().strip()
        if not self.display:
            raise RuntimeError("Xvfb did not start")
        self.environment = {**os.environ, "DISPLAY": f":{self.display}", "QT_QPA_PLATFORM": "xcb"}
        return self

    def __exit__(self, *_):
        self.server.terminate()
        self.server.wait()

    def picture(self):
        """(width, height, bytes of red, green, blue) of what is on the screen now."""
        dump = (self.folder / "Xvfb_screen0").read_bytes()
        header = struct.unpack(">25I", dump[:100])  # X11/XWDFile.h
        size, width, height, line = header[0], header[4], header[5], header[12]
        start = size + 12 * header[19]  # colour table
        rgb = bytearray(3 * width * height)
        for y in range(height):
            row = dump[start + y * line:start + y * line + 4 * width]
            part = slice(3 * width * y, 3 * width * (y + 1))
            red_green_blue = bytearray(3 * width)
            red_green_blue[0::3], red_green_blue[1::3], red_green_blue[2::3] = (
                row[2::4], row[1::4], row[0::4])
            rgb[part] = red_green_blue
        return width, height, bytes(rgb)


def write_png(path, width, height, rgb):
    def chunk(kind, data):
        return (struct.pack(">I", len(data)) + kind + data
                + struct.pack(">I", zlib.crc32(kind + data)))

    lines = b"".join(b"\0" + rgb[3 * width * y:3 * width * (y + 1)] for y in range(height))
    pathlib.Path(path).write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
        + chunk(b"IDAT", zlib.compress(lines)) + chunk(b"IEND", b""))
