"""The rig's own text out of a folio again, and PDFs that nobody should trust."""

import os
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pypdf
import pytest
from hypothesis import given, settings, strategies as st
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    NameObject,
    NumberObject,
    TextStringObject,
)

from rigfolio.cli.entry import main
from rigfolio.folio.attached import taken_out
from rigfolio.judgement import check
from rigfolio.refusal import RefusalError

MAIN = """\
# Plover, surveyed in March. Каюта – 日本語
rig "Plover"
    system   12 V
    rules    rv
battery B1 "House" 105 Ah, internal 10 mohm
include "parts/galley.rig"
"""
PART = """\
fuse    F1 50 A, on B1+, interrupts 10 kA
panel   P1 "Galley" 6 slots of 20 A, pitch 14 mm
wire F1 to P1  6 AWG red 4 ft
"""
ENCODINGS = {
    "as written": lambda text: text.encode(),
    "byte order mark": lambda text: text.encode("utf-8-sig"),
    "CR LF": lambda text: text.replace("\n", "\r\n").encode(),
    "bare CR": lambda text: text.replace("\n", "\r").encode(),
    "no last line end": lambda text: text.rstrip("\n").encode(),
    "mark and CR LF": lambda text: text.replace("\n", "\r\n").encode("utf-8-sig"),
}
BOMB = 200_000_000
FEW = settings(max_examples=60, deadline=None, derandomize=True)


@pytest.fixture(autouse=True)
def _rig(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("parts").mkdir()
    write()


def write(encode=ENCODINGS["as written"]):
    Path("plover.rig").write_bytes(encode(MAIN))
    Path("parts/galley.rig").write_bytes(encode(PART))


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """The folio of the rig as it is written down here."""
    folder, before = tmp_path_factory.mktemp("printed"), Path.cwd()
    os.chdir(folder)
    try:
        Path("parts").mkdir()
        write()
        assert main(["folio", "plover.rig", "-o", "made"]) == 0
    finally:
        os.chdir(before)
    return (folder / "made" / "folio.pdf").read_bytes()


@pytest.fixture
def made(printed):
    """The same folio in the folder of the test."""
    Path("made").mkdir()
    Path("made/folio.pdf").write_bytes(printed)


def everything(folder="."):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(Path(folder).rglob("*"))
        if path.is_file()
    }


def stream(content, **entries):
    made = DecodedStreamObject()
    made.set_data(content)
    made.update({NameObject(f"/{key}"): value for key, value in entries.items()})
    return made


def hostile(*names, content=b"rig", pack=False):
    """A PDF of one page that carries files of any name."""
    writer = pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    leaves = ArrayObject()
    for name in names:
        held = stream(content)
        held = held.flate_encode() if pack else held
        spec = DictionaryObject(
            {
                NameObject("/UF"): TextStringObject(name),
                NameObject("/EF"): DictionaryObject({NameObject("/F"): writer._add_object(held)}),
            }
        )
        leaves += [TextStringObject(name), writer._add_object(spec)]
    tree = DictionaryObject({NameObject("/Names"): leaves})
    writer.root_object[NameObject("/Names")] = DictionaryObject(
        {NameObject("/EmbeddedFiles"): tree}
    )
    return written(writer)


def written(writer):
    target = BytesIO()
    writer.write(target)
    return target.getvalue()


def refused(content, capsys, *arguments):
    """What is said of a PDF that is not taken apart; nothing is written, and 2 comes back."""
    Path("bad.pdf").write_bytes(content)
    before = everything()
    assert main(["extract", "bad.pdf", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    assert everything() == before
    return err


class TestRoundTrip:
    @pytest.mark.parametrize("encode", ENCODINGS.values(), ids=ENCODINGS)
    def test_byte_for_byte(self, encode, capsys):
        write(encode)
        assert main(["folio", "plover.rig", "-o", "made"]) == 0
        capsys.readouterr()
        assert main(["extract", "made/folio.pdf", "-o", "back"]) == 0
        assert capsys.readouterr().out == "back/parts/galley.rig\nback/plover.rig\n"
        assert everything("back") == {
            "plover.rig": encode(MAIN),
            "parts/galley.rig": encode(PART),
        }

    @pytest.mark.usefixtures("made")
    def test_what_comes_back_makes_the_same_folio(self, printed):
        main(["extract", "made/folio.pdf", "-o", "back"])
        main(["folio", "back/plover.rig", "-o", "two"])
        assert Path("two/folio.pdf").read_bytes() == printed

    def test_from_another_folder_the_names_are_the_same(self, monkeypatch, printed):
        Path("deep").mkdir()
        monkeypatch.chdir("deep")
        main(["folio", "../plover.rig", "-o", "two"])
        assert Path("two/folio.pdf").read_bytes() == printed

    def test_of_a_pipe(self, monkeypatch):
        whole = MAIN.replace('include "parts/galley.rig"\n', PART)
        monkeypatch.setattr("sys.stdin", type("Pipe", (), {"buffer": BytesIO(whole.encode())}))
        assert main(["folio", "-", "-o", "made"]) == 0
        assert dict(taken_out("made/folio.pdf").files) == {"rig.rig": whole.encode()}

    @pytest.mark.usefixtures("made")
    def test_into_this_folder_where_nothing_is_named(self):
        Path("plover.rig").unlink()
        assert main(["extract", "made/folio.pdf"]) == 0
        assert Path("plover.rig").read_text(encoding="utf-8") == MAIN

    @pytest.mark.usefixtures("made")
    def test_after_another_program_has_packed_it(self, capsys):
        writer = pypdf.PdfWriter(clone_from="made/folio.pdf")
        for spec in writer.root_object["/AF"]:
            held = spec.get_object()["/EF"]
            packed = writer._add_object(held["/F"].get_object().flate_encode())
            held[NameObject("/F")] = held[NameObject("/UF")] = packed
        Path("packed.pdf").write_bytes(written(writer))
        assert taken_out("packed.pdf") == taken_out("made/folio.pdf")


@pytest.mark.usefixtures("made")
class TestPlaces:
    def test_what_is_there_already_stays(self, capsys):
        Path("parts/galley.rig").write_bytes(b"# mine\n")
        before = everything()
        assert main(["extract", "made/folio.pdf"]) == 2
        assert "error[would-overwrite]: `parts/galley.rig`" in capsys.readouterr().err
        assert everything() == before

    def test_the_same_file_is_no_obstacle(self, capsys):
        Path("parts/galley.rig").unlink()
        assert main(["extract", "made/folio.pdf"]) == 0
        assert Path("parts/galley.rig").read_text(encoding="utf-8") == PART

    @pytest.mark.parametrize("place", ["plover.rig", "/dev/null"])
    def test_a_place_that_is_no_folder(self, place, capsys):
        before = everything()
        assert main(["extract", "made/folio.pdf", "-o", place]) == 2
        assert "error[" in capsys.readouterr().err
        assert everything() == before


class TestHostile:
    @pytest.mark.parametrize(
        "name",
        [
            "../x.rig", "a/../../x.rig", "..", ".", "/etc/x.rig", "//x/y", "C:\\x.rig", "C:x.rig",
            "a\\..\\x", "a\nb.rig", "a\0b", "", " ", "a/ .rig /b", "nul. ", "\u202egir.rig",
            "x" * 300, "/".join("abcdefghijkl"), "~/../x", "a//b.rig",
            "a/./b.rig", "CON", "parts/nul.rig",
        ],
    )  # fmt: skip
    def test_names_that_lead_elsewhere(self, name, capsys):
        said = refused(hostile(name), capsys)
        assert "error[folio-not-read]" in said
        assert said.count("\n") <= 3

    def test_two_of_one_name(self, capsys):
        assert "two files" in refused(hostile("a.rig", "a.rig"), capsys)

    def test_a_crowd(self, capsys):
        said = refused(hostile(*(f"{number}.rig" for number in range(60))), capsys)
        assert "more than 50 files" in said

    def test_one_that_unfolds_to_two_hundred_megabytes(self, capsys):
        content = hostile("x.rig", content=bytes(BOMB), pack=True)
        assert len(content) < BOMB / 100
        assert "more than 3000000 bytes" in refused(content, capsys)

    def test_a_large_plain_one(self, capsys):
        said = refused(hostile("x.rig", content=b"#" * 3_000_001), capsys)
        assert "more than 3000000 bytes" in said

    def test_another_packing(self, capsys):
        writer = pypdf.PdfWriter(clone_from=BytesIO(hostile("x.rig")))
        leaf = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"][1].get_object()
        held = stream(b"6162>", Filter=NameObject("/ASCIIHexDecode"))
        leaf["/EF"][NameObject("/F")] = writer._add_object(held)
        assert "packed in a way" in refused(written(writer), capsys)

    @pytest.mark.parametrize("algorithm", ["RC4-128", "AES-256"])
    def test_locked(self, algorithm, capsys):
        pytest.importorskip("cryptography")
        writer = pypdf.PdfWriter(clone_from=BytesIO(hostile("x.rig")))
        writer.encrypt("", "secret", algorithm=algorithm)
        assert "error[folio-locked]" in refused(written(writer), capsys)

    def test_a_tree_that_goes_round_in_circles(self, capsys):
        writer = pypdf.PdfWriter(clone_from=BytesIO(hostile("x.rig")))
        tree = writer._add_object(DictionaryObject())
        tree.get_object()[NameObject("/Kids")] = ArrayObject([tree] * 50)
        writer.root_object["/Names"][NameObject("/EmbeddedFiles")] = tree
        assert "error[folio-empty]" in refused(written(writer), capsys)

    @pytest.mark.parametrize("wrong", [NumberObject(3), TextStringObject("x"), ArrayObject()])
    @pytest.mark.parametrize("key", ["/Names", "/EmbeddedFiles", "/EF", "/UF"])
    def test_something_else_where_a_table_belongs(self, key, wrong, capsys):
        writer = pypdf.PdfWriter(clone_from=BytesIO(hostile("x.rig")))
        names = writer.root_object["/Names"]
        tree = names["/EmbeddedFiles"]
        leaf = tree["/Names"][1].get_object()
        holders = {"/Names": tree, "/EmbeddedFiles": names, "/EF": leaf, "/UF": leaf}
        is_name = key == "/UF" and isinstance(wrong, str)
        holders[key][NameObject(key)] = TextStringObject("../x") if is_name else wrong
        assert "error[folio-" in refused(written(writer), capsys)

    @pytest.mark.parametrize(
        "content",
        [b"", b"%PDF-1.7", b"%PDF-1.7\n" + b"(" * 100_000, b"GIF89a", MAIN.encode(), bytes(5000)],
        ids=range(6),
    )
    def test_no_pdf_at_all(self, content, capsys):
        assert "error[folio-not-read]" in refused(content, capsys)

    def test_a_pdf_without_files(self, capsys):
        main(["labels", "plover.rig", "-o", "labels.pdf"])
        capsys.readouterr()
        assert "error[folio-empty]" in refused(Path("labels.pdf").read_bytes(), capsys)

    @pytest.mark.parametrize("place", ["none.pdf", "parts", "/dev/zero", "a\0b.pdf"])
    def test_no_file(self, place, capsys):
        before = everything()
        assert main(["extract", place]) == 2
        assert "error[folio-not-read]" in capsys.readouterr().err
        assert everything() == before


@pytest.fixture(scope="module")
def whole():
    return hostile("plover.rig", "parts/galley.rig", content=MAIN.encode())


def names_or_rule(place):
    try:
        return list(taken_out(place).files)
    except RefusalError as refusal:
        return refusal.rule


@FEW
@given(data=st.data())
def test_a_damaged_pdf_gives_files_or_a_refusal(data, whole, tmp_path_factory):
    end = data.draw(st.integers(0, len(whole)))
    content = bytearray(whole[:end] if data.draw(st.booleans()) else whole)
    for _ in range(data.draw(st.integers(0, 20))):
        if content:
            content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    path = tmp_path_factory.getbasetemp() / "damaged.pdf"
    path.write_bytes(content)
    outcome = names_or_rule(str(path))
    assert outcome
    if isinstance(outcome, str):
        assert outcome in ("folio-not-read", "folio-empty", "folio-locked", "folio-changed")
    else:
        assert not [n for n in outcome if n.startswith("/") or ".." in n.split("/")]


class TestDamage:
    """One bit of a folio turned over: the text as it was, or a word on which copy is right."""

    @staticmethod
    def flipped(content: bytes, bit: int) -> bytes:
        spoilt = bytearray(content)
        spoilt[bit // 8] ^= 1 << bit % 8
        return bytes(spoilt)

    def test_no_bit_of_an_attached_text_goes_unseen(self, printed):
        sound = {"plover.rig": MAIN.encode(), "parts/galley.rig": PART.encode()}
        for text in sound.values():
            start = printed.index(text)
            for bit in range(8 * start, 8 * (start + len(text)), 61):
                Path("f.pdf").write_bytes(self.flipped(printed, bit))
                with pytest.raises(RefusalError) as refusal:
                    taken_out("f.pdf")
                assert refusal.value.rule == "folio-changed"
                said = f"its SHA-256 is {sha256(text).hexdigest()}"
                assert f"the right copy is the one of which {said}" in refusal.value.fix
                assert f"its pages call it text {check('plover.rig').digest}" in refusal.value.fix

    @pytest.mark.parametrize("names_too", [False, True], ids=["tree", "tree and list"])
    @pytest.mark.parametrize("lost", [0, 1])
    def test_a_set_that_is_not_whole_is_not_given_back(self, printed, lost, names_too):
        writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
        held = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]
        gone = held[2 * lost + 1]
        del held[2 * lost : 2 * lost + 2]
        if names_too:
            stated = writer.root_object["/AF"]
            stated.remove(next(one for one in stated if one.get_object() == gone.get_object()))
        assert self.rule_of(writer) == "folio-changed"

    def test_without_the_list_the_set_is_proved_in_any_order(self, printed):
        writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
        del writer.root_object["/AF"]
        Path("f.pdf").write_bytes(written(writer))
        assert set(taken_out("f.pdf").files.values()) == {MAIN.encode(), PART.encode()}
        del writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"][:2]
        assert self.rule_of(writer) == "folio-changed"

    @pytest.mark.parametrize("key", ["/F", "/UF", ""])
    def test_a_file_of_another_name_is_not_given_back(self, printed, key):
        writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
        held = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]
        other = TextStringObject("oyster.rig")
        if key:
            held[3].get_object()[NameObject(key)] = other
        else:
            held[2] = other
        assert self.rule_of(writer) in ("folio-changed", "folio-not-read")

    def test_one_more_file_is_not_given_back(self, printed):
        writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
        held = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]
        more = DictionaryObject(held[1].get_object())
        for key in ("/F", "/UF"):
            more[NameObject(key)] = TextStringObject("more.rig")
        held += [TextStringObject("more.rig"), writer._add_object(more)]
        assert self.rule_of(writer) == "folio-changed"

    def test_what_nothing_proves_is_told(self, capsys):
        Path("bare.pdf").write_bytes(hostile("x.rig"))
        assert main(["extract", "bare.pdf"]) == 0
        told = "`x.rig`: nothing in `bare.pdf` tells whether it is as it was attached"
        assert told in capsys.readouterr().err

    @staticmethod
    def rule_of(writer: pypdf.PdfWriter) -> str:
        """How such a document is refused."""
        Path("f.pdf").write_bytes(written(writer))
        with pytest.raises(RefusalError) as refusal:
            taken_out("f.pdf")
        assert refusal.value.fix
        return refusal.value.rule

    @pytest.mark.parametrize("of", ["CheckSum", "SHA-256"])
    def test_a_spoilt_digest_does_not_cost_the_text(self, printed, of):
        at = printed.index(of.encode()) + len(of) + 4
        Path("f.pdf").write_bytes(self.flipped(printed, 8 * at))
        assert taken_out("f.pdf").files["plover.rig"] == MAIN.encode()

    @FEW
    @given(data=st.data())
    def test_a_bit_anywhere_gives_the_text_or_a_refusal(self, data, printed):
        near = printed.index(b"/Filespec") - 2_000
        bit = data.draw(st.integers(8 * near, 8 * len(printed) - 1))
        Path("f.pdf").write_bytes(self.flipped(printed, bit))
        try:
            given_back = taken_out("f.pdf").files
        except RefusalError:
            return
        assert set(given_back.values()) <= {MAIN.encode(), PART.encode()}

    def test_the_stronger_digest_tells_where_the_other_says_nothing(self, printed):
        text = MAIN.encode()
        spoilt = text.replace(b"105 Ah", b"205 Ah")
        changed = printed.replace(text, spoilt).replace(b"/CheckSum", b"/CheckNone")
        Path("f.pdf").write_bytes(changed)
        told = f"SHA-256 {sha256(spoilt).hexdigest()} found, {sha256(text).hexdigest()} stated"
        with pytest.raises(RefusalError) as refusal:
            taken_out("f.pdf")
        assert told in refusal.value.headline
