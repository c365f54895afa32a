"""Photographs: kept with their digest, and what is none is refused whatever it is called."""

import hashlib
import io
import struct
import time
import zlib

import pytest
from PIL import Image

from quizzes.records.attachments.photograph import NoPhotographError, photograph


def picture(kind="JPEG", size=(640, 480), **more):
    """Return a picture file."""
    held = io.BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(held, kind, **more)
    return held.getvalue()


@pytest.mark.parametrize(
    ("kind", "media_type"),
    [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")],
)
def test_a_photograph_is_what_its_content_is(kind, media_type):
    """Whatever its name says; the digest is of the file as handed in."""
    content = picture(kind)
    found = photograph(content, "holiday.exe")

    assert (found.media_type, found.width_px, found.height_px) == (media_type, 640, 480)
    assert found.sha256 == hashlib.sha256(content).hexdigest()
    assert found.size_bytes == len(content)


def wide_png(width, height):
    """Return the head of a PNG that claims a size and holds next to nothing."""

    def chunk(name, body):
        return (
            struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        )

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0"))
        + chunk(b"IEND", b"")
    )


def moving():
    """Return a picture that moves."""
    held = io.BytesIO()
    frames = [Image.effect_noise((200, 200), 60).convert("RGB") for _ in range(3)]
    frames[0].save(held, "WEBP", save_all=True, append_images=frames[1:])
    return held.getvalue()


NONE = {
    "empty": (b"", "not a photograph"),
    "text": (b"brake photo", "not a photograph"),
    "page": (b"<html><script>alert(1)</script>", "not a photograph"),
    "drawing": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a photograph"),
    "program": (b"MZ\x90\x00" + bytes(2000), "not a photograph"),
    "document": (b"%PDF-1.7\n", "not a photograph"),
    "another kind": (picture("GIF"), "not a photograph"),
    "bitmap": (picture("BMP"), "not a photograph"),
    "head only": (picture()[:400], "damaged"),
    "cut off": (picture()[:-3000], "damaged"),
    "png cut off": (picture("PNG")[:-3000], "damaged"),
    "tiny": (picture(size=(20, 20)), "at least"),
    "huge": (wide_png(60_000, 60_000), "pixels"),
    "large": (wide_png(9_000, 9_000), "pixels"),
    "moving": (moving(), "moving"),
    "too many bytes": (bytes(15_000_001), "15,000,001 bytes"),
}


@pytest.mark.parametrize("kind", NONE)
def test_what_is_no_photograph_is_refused_in_a_sentence(kind):
    """By its content, with the reason, at once, though it is called a photograph."""
    content, words = NONE[kind]
    began = time.perf_counter()

    with pytest.raises(NoPhotographError, match=rf"'brake\.jpg'.*{words}"):
        photograph(content, "brake.jpg")
    assert time.perf_counter() - began < 10  # none is unpacked, which takes a minute


def test_a_flipped_byte_never_raises_anything_else():
    """A damaged file is a sentence or a picture, never a traceback."""
    content = bytearray(picture(size=(120, 120)))
    for place in range(0, len(content), 37):
        bent = bytes(content[:place]) + bytes([content[place] ^ 0xFF]) + bytes(content[place + 1 :])
        try:
            said = photograph(bent, "brake.jpg").media_type
        except NoPhotographError as error:
            said = str(error)
        assert said == "image/jpeg" or said.endswith(".")
