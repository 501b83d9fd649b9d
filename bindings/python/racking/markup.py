"""HTML that exports leave in notes: entities and tags resolved as note_cleanup resolves them."""
from __future__ import annotations

import html
import re
from html.entities import html5
from typing import List, Optional, Tuple

__all__ = ["resolved"]

MOST_PASSES = 3       # text escaped, and escaped again
LONGEST_TAG = 4096
TAGS = frozenset("""
html head title base link meta style script noscript template body article section nav aside h1 h2 h3
h4 h5 h6 hgroup header footer address p hr pre blockquote ol ul li dl dt dd figure figcaption main div
a em strong small s cite q dfn abbr data time code var samp kbd sub sup i b u mark ruby rt rp bdi bdo
span br wbr ins del image img iframe embed object param video audio source track canvas map area math
mi mo mn ms mtext mglyph malignmark annotation-xml svg foreignobject desc table caption colgroup col
tbody thead tfoot tr td th form fieldset legend label input button select datalist optgroup option
textarea keygen output progress meter details summary menu menuitem applet acronym bgsound dir frame
frameset noframes isindex listing xmp nextid noembed plaintext rb strike basefont big blink center
font marquee multicol nobr spacer tt rtc""".split())
BREAKS = frozenset("""
br p li div tr h1 h2 h3 h4 h5 h6 ul ol dl dt dd hr table section article header footer pre blockquote
main aside nav thead tbody tfoot caption figure address""".split())
BARE = "nowrap|noshade|hidden|disabled|compact|checked|selected|reversed|open"
OFFICE = re.compile(r"[a-z0-9]{1,4}:[a-z0-9:]*")
ENTITY = re.compile(r"&(#?)([A-Za-z0-9]{1,38})(;?)")
# Without a semicolon only what nobody writes by chance.
UNCLOSED = re.compile(r"amp|lt|gt|quot|nbsp|[A-Za-z](?:acute|grave|circ|uml|tilde|cedil|slash|ring)")
ATTRIBUTE = rf"""(?:{BARE})(?=[\s/>=])(?!=)|[^\s=/>"'<]+=(?:"[^"]*"|'[^']*'|[^\s>"'][^\s>]*|(?=[\s>]))"""
TAG = re.compile(rf"<(/?)([A-Za-z][A-Za-z0-9:]{{0,30}})((?:(?:\s+|\s*/\s*)(?:{ATTRIBUTE}))*)\s*/?\s*>",
                 re.IGNORECASE)
ASIDE = re.compile(r"<!--.*?-->|<!\[CDATA\[(.*?)\]\]>|<!\[.*?>|<!doctype.*?>|<\?xml.*?>",
                   re.IGNORECASE | re.DOTALL)
LINE_END = re.compile(r"[ \t]*\r?\n?[ \t]*")


def resolved(text: str) -> Tuple[str, int]:
    """The text without its entities and tags, and how many there were."""
    total = tags = 0
    for _ in range(MOST_PASSES):
        if "&" not in text and "<" not in text:
            break
        text, entities, found = one_pass(text)
        total += entities + found
        tags += found
        if not entities + found:
            break
    return (text.strip(" \t\r\n\f") if tags else text), total


def one_pass(text: str) -> Tuple[str, int, int]:
    out: List[str] = []
    entities = tags = at = 0
    for mark in iter(lambda: next_mark(text, at), -1):
        out.append(text[at:mark])
        at = mark
        piece = entity_at(text, at) if text[at] == "&" else tag_at(text, at)
        if piece is None:
            out.append(text[at])
            at += 1
            continue
        end, instead, breaks = piece
        entities += text[at] == "&"
        tags += text[at] == "<"
        if breaks:
            kept = "".join(out).rstrip(" \t")
            hard = text[at + 1:at + 3].lower() == "br"
            out = [kept + ("\n" if hard or (kept and not kept.endswith("\n")) else "")]
            line_end = LINE_END.match(text, end)
            end = line_end.end() if line_end else end
        else:
            out.append(instead)
        at = end
    out.append(text[at:])
    return "".join(out), entities, tags


def next_mark(text: str, at: int) -> int:
    found = [mark for mark in (text.find("&", at), text.find("<", at)) if mark >= 0]
    return min(found, default=-1)


def entity_at(text: str, at: int) -> Optional[Tuple[int, str, bool]]:
    found = ENTITY.match(text, at)
    if found is None:
        return None
    numeric, name, closed = found.groups()
    if not closed and (numeric or not UNCLOSED.fullmatch(name)):
        return None
    if numeric:
        if not re.fullmatch(r"[0-9]+|[xX][0-9a-fA-F]+", name):
            return None
        instead = html.unescape(f"&#{name};")
    else:
        instead = html5.get(name + ";", "")
    if not instead.strip(" \t\n\r\f"):   # white space is left as it is written
        return None
    plain = instead == "\xa0" and name != "NonBreakingSpace"
    return found.end(), " " if plain else instead, False


def tag_at(text: str, at: int) -> Optional[Tuple[int, str, bool]]:
    if text.startswith(("<!", "<?"), at):
        aside = ASIDE.match(text, at)
        return None if aside is None else (aside.end(), aside[1] or "", False)
    found = TAG.match(text, at, at + LONGEST_TAG)
    if found is None:
        return None
    closing, name = found[1], found[2].lower()
    if name not in TAGS and not OFFICE.fullmatch(name):
        return None
    end = found.end()
    if not closing and name in ("script", "style"):
        raw = re.compile(rf"</{name}[^>]*>", re.IGNORECASE).search(text, end)
        end = raw.end() if raw else end
    return end, " " if name in ("td", "th") else "", name in BREAKS
