"""The drawings of a blade on paper: rasterised at 600 dpi, the ruler of each sheet is 100 mm long.

usage: python3 ruler.py PROGRAM CASE FOLDER [CHROMIUM]   CHROMIUM: a browser that prints the sheets in SVG, too
"""
import os
import shutil
import subprocess
import sys

program, case, folder = sys.argv[1:4]
browser = sys.argv[4] if len(sys.argv) > 4 else None
dots = 600
end_tick = 0.35  # mm, half of it beyond each end of the ruler


def rasterised(pdf):
    """Pages in black and white: width and rows of packed bits."""
    stem = os.path.join(folder, "page")
    subprocess.run(["pdftoppm", "-mono", "-r", str(dots), pdf, stem], check=True)
    for name in sorted(n for n in os.listdir(folder) if n.endswith(".pbm")):
        with open(os.path.join(folder, name), "rb") as file:
            assert file.readline() == b"P4\n"
            width, height = map(int, file.readline().split())
            data = file.read()
        os.remove(os.path.join(folder, name))
        row = (width + 7) // 8
        yield width, height, [data[i * row:(i + 1) * row] for i in range(height)]


def longest_line(width, row):
    return max(map(len, bin(int.from_bytes(row, "big"))[2:].zfill(8 * len(row))[:width].split("0")))


def held(pdf, sheets):
    worst = 0.0
    pages = list(rasterised(pdf))
    assert len(pages) == sheets, f"{pdf}: {len(pages)} pages of {sheets}"
    for width, height, rows in pages:
        mm = dots / 25.4
        assert abs(width / mm - 210) < 0.5 and abs(height / mm - 297) < 0.5, f"{pdf}: no A4"
        foot = rows[round((297 - 16) * mm):]
        worst = max(worst, abs(max(longest_line(width, r) for r in foot) / mm - 100 - end_tick))
    print(f"{os.path.basename(pdf)}: {len(pages)} sheets, ruler off by at most {worst:.3f} mm")
    assert worst < 0.1, f"{pdf}: 100 mm is not 100 mm"


if not shutil.which("pdftoppm"):
    print("without pdftoppm (Debian: poppler-utils) nothing is measured")
    sys.exit(77)
shutil.rmtree(folder, ignore_errors=True)
os.makedirs(folder)
for kind in ("pdf", "svg"):
    done = subprocess.run([program, "blade", case, "--drawing", os.path.join(folder, f"blade.{kind}")],
                          capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
sheets = sorted(n for n in os.listdir(folder) if n.endswith(".svg"))
held(os.path.join(folder, "blade.pdf"), len(sheets))
if browser:
    for name in sheets[:2]:
        printed = os.path.join(folder, name + ".pdf")
        subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                        f"--print-to-pdf={printed}", "file://" + os.path.abspath(os.path.join(folder, name))],
                       check=True, capture_output=True)
        held(printed, 1)
