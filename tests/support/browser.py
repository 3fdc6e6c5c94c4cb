"""A headless Chromium, driven over its own debugging protocol by a pipe: pointers, fingers and keys as a person's."""
import base64
import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import time


def program():
    """Debian's name first."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


class Browser:
    """One page at a time. `asked` lists every address that the page wanted beyond its own file."""

    def __init__(self, size=(1200, 800), touch=False, dark=False, scale=1):
        self.folder = tempfile.TemporaryDirectory()
        to_them, ours = os.pipe()
        mine, to_us = os.pipe()

        def place():  # the protocol's pipes are 3 and 4
            a, b = os.dup(to_them), os.dup(to_us)
            os.dup2(a, 3)
            os.dup2(b, 4)
        self.process = subprocess.Popen(
            [program(), "--headless=new", "--remote-debugging-pipe", "--no-sandbox", "--no-first-run",
             "--disable-extensions", "--disable-background-networking", "--use-angle=swiftshader",
             "--enable-unsafe-swiftshader", "--disable-dev-shm-usage", "--mute-audio",
             "--host-resolver-rules=MAP * ~NOTFOUND", f"--user-data-dir={self.folder.name}/profile", "about:blank"],
            preexec_fn=place, close_fds=False, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL, env={**os.environ, "HOME": self.folder.name})
        os.close(to_them)
        os.close(to_us)
        self.out, self.into = os.fdopen(mine, "rb"), os.fdopen(ours, "wb", buffering=0)
        self.number, self.session, self.asked, self.said, self.events = 0, None, [], [], []
        self.heard = bytearray()
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log"):
            self.call(f"{domain}.enable")
        self.call("Network.emulateNetworkConditions", offline=True, latency=0, downloadThroughput=-1, uploadThroughput=-1)
        self.call("Browser.setDownloadBehavior", behavior="allow", downloadPath=self.folder.name, eventsEnabled=True)
        self.call("Emulation.setDeviceMetricsOverride", width=size[0], height=size[1], deviceScaleFactor=scale, mobile=touch)
        self.call("Emulation.setTouchEmulationEnabled", enabled=touch, maxTouchPoints=5 if touch else 1)
        self.call("Emulation.setEmulatedMedia", features=[
            {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])

    def close(self):
        self.into.close()
        try:
            self.process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        self.out.close()
        self.folder.cleanup()

    def read(self):
        """The next message: they end with a zero."""
        while b"\0" not in self.heard:
            got = self.out.read1(1 << 20)
            if not got:
                raise EOFError("the browser has gone")
            self.heard += got
        message, _, rest = bytes(self.heard).partition(b"\0")
        self.heard = bytearray(rest)
        return json.loads(message)

    def call(self, method, **params):
        self.number += 1
        message = {"id": self.number, "method": method, "params": params}
        if self.session:
            message["sessionId"] = self.session
        self.into.write(json.dumps(message).encode() + b"\0")
        while True:
            answer = self.read()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]
            self.hear(answer)

    def hear(self, event):
        self.events.append(event.get("method"))
        about = event.get("params", {})
        if event.get("method") == "Network.requestWillBeSent":
            address = about["request"]["url"]
            if not address.startswith(("file:", "data:", "blob:")):
                self.asked.append(address)
        if event.get("method") == "Runtime.exceptionThrown":
            details = about["exceptionDetails"]
            self.said.append(details.get("exception", {}).get("description") or details["text"])
        if event.get("method") == "Log.entryAdded" and about["entry"]["level"] == "error":
            self.said.append(about["entry"]["text"])

    def spent(self):
        """Processor time of the threads that run pages [s]."""
        total = 0.0
        for folder in pathlib.Path("/proc").glob("[0-9]*"):
            try:
                if b"--type=renderer" in (words := (folder / "cmdline").read_bytes()) and self.folder.name.encode() in words:
                    fields = (folder / "task" / folder.name / "stat").read_text().rpartition(")")[2].split()
                    total += (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
            except OSError:
                pass
        return total

    def open(self, path):
        self.asked, self.said, self.events = [], [], []
        self.call("Page.navigate", url=f"file://{path}")
        self.until("document.body && document.body.dataset.ready")

    def ask(self, expression):
        got = self.call("Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in got:
            raise RuntimeError(got["exceptionDetails"].get("exception", got["exceptionDetails"]))
        return got["result"].get("value")

    def until(self, expression, seconds=20):
        end = time.monotonic() + seconds
        while not (value := self.ask(expression)):
            if time.monotonic() > end:
                raise TimeoutError(f"{expression}; the page said {self.said}")
            time.sleep(0.03)
        return value

    def drawn(self):
        """When what was asked for is in the picture."""
        self.ask("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def mouse(self, kind, x, y, **more):
        self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, **more)

    def click(self, x, y):
        self.mouse("mouseMoved", x, y)
        self.mouse("mousePressed", x, y, button="left", buttons=1, clickCount=1)
        self.mouse("mouseReleased", x, y, button="left", clickCount=1)

    def drag(self, start, end, button="left", modifiers=0):
        self.mouse("mousePressed", *start, button=button, buttons=1 if button == "left" else 2, clickCount=1)
        for k in range(1, 6):
            self.mouse("mouseMoved", *(a + (b - a) * k / 5 for a, b in zip(start, end)), button=button,
                       buttons=1 if button == "left" else 2, modifiers=modifiers)
        self.mouse("mouseReleased", *end, button=button, clickCount=1, modifiers=modifiers)
        self.drawn()

    def press(self, selector):
        """A click in the middle of an element, once it is in view."""
        x, y = self.ask(f"(() => {{ const e = document.querySelector({json.dumps(selector)}); "
                        "e.scrollIntoView({block: 'center'}); const b = e.getBoundingClientRect(); "
                        "return [b.x + b.width / 2, b.y + b.height / 2]; })()")
        self.click(x, y)
        self.drawn()

    def fingers(self, *steps):
        """Each step: places of the fingers that touch; lifted at the end."""
        kind = "touchStart"
        for step in steps:
            self.call("Input.dispatchTouchEvent", type=kind, touchPoints=[
                {"x": x, "y": y, "id": i} for i, (x, y) in enumerate(step)])
            kind = "touchMove"
        self.call("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])
        self.drawn()

    def key(self, name, text="", modifiers=0):
        codes = {"Enter": 13, "Backspace": 8, "Home": 36, "Tab": 9, "ArrowLeft": 37, "ArrowRight": 39, " ": 32}
        for kind in ("keyDown", "keyUp"):
            more = {"text": text} if text and kind == "keyDown" else {}
            self.call("Input.dispatchKeyEvent", type=kind, key=name, windowsVirtualKeyCode=codes.get(name, 0),
                      modifiers=modifiers, **more)
        self.drawn()

    def type(self, selector, text):
        self.ask(f"document.querySelector({json.dumps(selector)}).focus()")
        self.call("Input.insertText", text=text)

    def picture(self, path):
        self.drawn()
        with open(path, "wb") as file:
            file.write(base64.b64decode(self.call("Page.captureScreenshot", format="png")["data"]))

    def saved(self, name, seconds=10):
        """The text of a file that the page saved."""
        end = time.monotonic() + seconds
        path = os.path.join(self.folder.name, name)
        while "Browser.downloadProgress" not in self.events or not os.path.exists(path):
            if time.monotonic() > end:
                raise TimeoutError(f"{name} was not saved")
            self.ask("1")
            time.sleep(0.05)
        time.sleep(0.2)
        with open(path, encoding="utf-8") as file:
            return file.read()
