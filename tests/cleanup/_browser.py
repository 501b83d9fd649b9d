"""A headless Chromium, driven over the W3C WebDriver protocol."""
import base64
import json
import os
import shutil
import socket
import subprocess
import time
import urllib.error
import urllib.request


def find():
    """Paths of the driver and the browser, or nothing."""
    driver = shutil.which("chromedriver")
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    return (driver, browser) if driver and browser else None


class Browser:
    def __init__(self, width=1100, height=900):
        driver, browser = find()
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        self._base = f"http://127.0.0.1:{port}"
        self._driver = subprocess.Popen([driver, f"--port={port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        arguments = ["--headless=new", "--disable-gpu", "--hide-scrollbars", "--disable-dev-shm-usage",
                     f"--window-size={width},{height}"]
        if os.geteuid() == 0:
            arguments.append("--no-sandbox")  # Chromium's sandbox refuses to run as root
        wanted = {"browserName": "chrome", "goog:chromeOptions": {"binary": browser, "args": arguments},
                  "goog:loggingPrefs": {"browser": "ALL"}}
        try:
            self._wait()
            answer = self._call("POST", "/session", {"capabilities": {"alwaysMatch": wanted}})
        except BaseException:
            self._stop()
            raise
        self._session = "/session/" + answer["sessionId"]

    def _stop(self):
        self._driver.terminate()
        self._driver.wait(20)

    def _wait(self):
        deadline = time.monotonic() + 30
        while True:
            try:
                return self._call("GET", "/status")
            except (urllib.error.URLError, ConnectionError):
                if time.monotonic() > deadline:
                    raise
                time.sleep(0.1)

    def _call(self, method, path, body=None):
        request = urllib.request.Request(self._base + path, method=method,
                                         data=None if body is None else json.dumps(body).encode(),
                                         headers={"Content-Type": "application/json"})
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        with opener.open(request, timeout=120) as answer:
            return json.load(answer)["value"]

    def open(self, path):
        self._call("POST", self._session + "/url", {"url": path.as_uri()})

    def ask(self, script):
        return self._call("POST", self._session + "/execute/sync", {"script": script, "args": []})

    def size(self, width, height):
        self._call("POST", self._session + "/window/rect", {"width": width, "height": height})

    def screenshot(self):
        return base64.b64decode(self._call("GET", self._session + "/screenshot"))

    def print(self):
        return base64.b64decode(self._call("POST", self._session + "/print", {"background": False}))

    def messages(self):
        return self._call("POST", self._session + "/se/log", {"type": "browser"})

    def close(self):
        try:
            self._call("DELETE", self._session)
        finally:
            self._stop()
