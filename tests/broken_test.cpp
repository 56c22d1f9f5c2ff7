// Broken input, file by file: the fault is named at its place with what to write instead, nothing
// else is printed, and nothing half-made is left behind.
//
// Each tests/broken/*.toml is sound but for one thing; its first line says where the fault is and
// some of the words the message must hold: `# expect [FILE:]LINE:COLUMN words`.

#include "often.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;
using loadline::test::lines_of;
using loadline::test::Ran;
using loadline::test::read;
using loadline::test::replaced;
using loadline::test::run;
using loadline::test::Scratch;

const fs::path broken_cases = fs::path(LOADLINE_TEST_DATA) / "broken";

std::string sound_case() {
    return read(fs::path(LOADLINE_ROOT) / "cases" / "demo.toml");
}

// The number at `at` in `line` and the colon behind it; the place after both, or npos.
std::size_t past_number(const std::string& line, std::size_t at) {
    const std::size_t end = line.find_first_not_of("0123456789", at);
    const bool number = end != std::string::npos && end > at && line[at] != '0';
    return number && line[end] == ':' ? end + 1 : std::string::npos;
}

// "file:line:column: what; remedy" with nothing empty.
bool in_due_form(const std::string& line) {
    for (std::size_t colon = line.find(':'); colon != std::string::npos;
         colon = line.find(':', colon + 1)) {
        const std::size_t column = past_number(line, colon + 1);
        const std::size_t what = column == std::string::npos ? column : past_number(line, column);
        if (colon == 0 || what == std::string::npos || line[what] != ' ')
            continue;
        const std::size_t remedy = line.find("; ", what + 2);
        return remedy != std::string::npos && remedy + 2 < line.size();
    }
    return false;
}

// Every line of a refusal names place, fault and remedy.
void check_refusal(const Ran& ran) {
    CHECK(ran.status == loadline::cli::status_wrong_input);
    CHECK(ran.out.empty());
    CHECK_FALSE(ran.err.empty());
    for (const std::string& line : lines_of(ran.err)) {
        INFO(line);
        CHECK(in_due_form(line));
    }
}

// What was said is returned. Asked in two ways, of one file by these, of the next by those.
std::string check_refusal_at(const std::string& file, const std::string& place,
                             const std::string& words) {
    struct Asked {
        const char *command, *option;
    };
    static std::size_t turn = 0;
    constexpr std::array<std::array<Asked, 2>, 2> ways = {
        {{{{"curve", "--json"}, {"match", "--units=metric"}}},
         {{{"curve", "--units=metric"}, {"match", "--json"}}}}};
    std::string said;
    for (const Asked& one : ways[turn++ % ways.size()]) {
        INFO(file, " ", one.command, " ", one.option);
        const Ran ran = run({one.command, file, one.option});
        check_refusal(ran);
        INFO(ran.err);
        CHECK(ran.err.starts_with(place + ": "));
        CHECK(ran.err.find(words) != std::string::npos);
        said = ran.err;
    }
    return said;
}

}  // namespace

TEST_CASE("the form of a refusal is told from what is not") {
    CHECK(in_due_form("a.toml:1:20: x is wrong; write y"));
    CHECK(in_due_form("C:/a b.toml:1:20: x: wrong; y"));
    for (const char* line : {"", ":1:1: x; y", "a:0:1: x; y", "a:1: x; y", "a:1:1: x", "a:1:1: x; ",
                             "a:1:1: ; y", "a:1:x: x; y", "a:1:1:x; y"}) {
        INFO(line);
        CHECK_FALSE(in_due_form(line));
    }
}

TEST_CASE("every broken case is refused at the place of its fault") {
    int files = 0;
    for (const auto& entry : fs::directory_iterator(broken_cases)) {
        if (entry.path().extension() != ".toml")
            continue;
        ++files;
        const std::string file = entry.path().string();
        const std::string first = lines_of(read(file)).front();
        const std::string opening = "# expect ";
        REQUIRE(first.starts_with(opening));
        const std::size_t space = first.find(' ', opening.size());
        REQUIRE(space != std::string::npos);
        std::string place = first.substr(opening.size(), space - opening.size());
        const bool here = place.find_first_not_of("0123456789:") == std::string::npos;
        place = here ? file + ":" + place : (broken_cases / place).string();
        // The fault is the only one: nothing that follows from it is complained of too.
        CHECK(lines_of(check_refusal_at(file, place, first.substr(space + 1))).size() == 1);
    }
    fmt::print("{} broken files\n", files);
    CHECK(files >= 60);
}

TEST_CASE("several faults are reported in one run, in the order of the file") {
    const Scratch scratch;
    const std::string file = scratch.write("many.toml",
                                           "[air]\n"
                                           "elevation = 300\n"
                                           "[drive]\n"
                                           "ratoi = 3\n"
                                           "[[propeller]]\n"
                                           "name = \"one\"\n"
                                           "diameter = \"1 m\"\n"
                                           "blades = 2\n"
                                           "section = \"clark-y\"\n"
                                           "stations = [\n"
                                           "  [\"10 cm\", 8, \"20 deg\"],\n"
                                           "  [\"20 cm\", \"8 cm\", \"20 deg\"],\n"
                                           "  [\"45 cm\", \"8 cm\", \"200 deg\"],\n"
                                           "  [\"60 cm\", \"8 cm\", \"20 deg\"],\n"
                                           "]\n");
    const Ran ran = run({"match", file});
    check_refusal(ran);
    const auto lines = lines_of(ran.err);
    INFO(ran.err);
    const std::vector<std::string> places = {"2:13", "4:1", "11:13", "13:21", "14:4"};
    REQUIRE(lines.size() == places.size());
    for (std::size_t i = 0; i < places.size(); ++i)
        CHECK(lines[i].starts_with(file + ":" + places[i] + ": "));
}

TEST_CASE("a file of many faults shows the first twenty") {
    const Scratch scratch;
    std::string text = sound_case();
    for (int i = 0; i < 100; ++i)
        text += fmt::format("[[propeller]]\nname = \"p{}\"\n", i);
    const Ran ran = run({"match", scratch.write("many.toml", text)});
    check_refusal(ran);
    CHECK(lines_of(ran.err).size() == 20);
}

TEST_CASE("what is no text file at all is refused with plain words") {
    const Scratch scratch;
    std::mt19937 random(20240501);
    const auto garbage = [&](std::size_t size) {
        std::string text(size, '\0');
        std::generate(text.begin(), text.end(),
                      [&] { return static_cast<char>(random() & 0xFFU); });
        return text;
    };
    SUBCASE("ten megabytes of garbage") {
        const std::string file = scratch.write("garbage.toml", garbage(10'000'000));
        check_refusal_at(file, file + ":1:1", "larger than 4.0 MB");
    }
    SUBCASE("a little garbage") {
        for (int i = 0; i < 50; ++i)
            check_refusal(run({"match", scratch.write("garbage.toml", garbage(1000))}));
    }
    SUBCASE("a zero byte") {
        std::string text = sound_case();
        text.insert(text.find("title"), 1, '\0');
        const std::string file = scratch.write("zero.toml", text);
        check_refusal_at(file, file + ":6:1", "zero byte");
    }
    SUBCASE("bytes that are not UTF-8") {
        const std::string file = scratch.write("latin.toml", "title = \"B\xe4r\"\n");
        check_refusal_at(file, file + ":1:11", "not UTF-8");
    }
    SUBCASE("UTF-16") {
        const std::string text("\xFF\xFE t\0i\0", 7);
        const std::string file = scratch.write("wide.toml", text);
        check_refusal_at(file, file + ":1:1", "UTF-16");
    }
    SUBCASE("an empty file") {
        const std::string file = scratch.write("empty.toml", "");
        check_refusal_at(file, file + ":1:1", "empty");
    }
    SUBCASE("blanks only") {
        const std::string file = scratch.write("blank.toml", " \n\r\n\t\n");
        check_refusal_at(file, file + ":1:1", "empty");
    }
    SUBCASE("remarks only") {
        const std::string file = scratch.write("remarks.toml", "# nothing\n");
        check_refusal_at(file, file + ":1:1", "no propeller");
    }
    SUBCASE("a folder") {
        const std::string file = scratch.folder().string();
        check_refusal_at(file, file + ":1:1", "folder");
    }
    SUBCASE("no such file, with a neighbour of nearly that name") {
        static_cast<void>(scratch.write("mine.toml", sound_case()));
        const std::string file = (scratch.folder() / "mien.toml").string();
        check_refusal_at(file, file + ":1:1", "mine.toml");
    }
    SUBCASE("no such folder") {
        const std::string file = (scratch.folder() / "nowhere" / "mine.toml").string();
        check_refusal_at(file, file + ":1:1", "no such case file");
    }
    SUBCASE("a file one may not read") {
        const std::string file = scratch.write("secret.toml", sound_case());
        REQUIRE(chmod(file.c_str(), 0) == 0);
        if (geteuid() == 0 && std::ifstream(file))
            fmt::print("skipped: the superuser may read every file\n");
        else
            check_refusal_at(file, file + ":1:1", "cannot be opened");
    }
    SUBCASE("brackets a thousand deep") {
        const std::string deep = "x = " + std::string(1000, '[') + std::string(1000, ']') + "\n";
        const Ran ran = run({"match", scratch.write("deep.toml", deep)});
        check_refusal(ran);
        CHECK(ran.err.find("TOML_") == std::string::npos);
    }
    SUBCASE("a section file that is garbage") {
        const std::string text = replaced(sound_case(), "\"clark-y\"", "\"./tip.csv\"");
        const std::string section = scratch.write("tip.csv", garbage(100'000));
        const std::string file = scratch.write("mine.toml", text);
        const Ran ran = run({"match", file});
        check_refusal(ran);
        CHECK(ran.err.starts_with(section + ":"));
    }
    SUBCASE("a section file larger than any table") {
        const std::string text = replaced(sound_case(), "\"clark-y\"", "\"./tip.csv\"");
        const std::string section = scratch.write("tip.csv", std::string(20'000'001, '#'));
        const Ran ran = run({"match", scratch.write("mine.toml", text)});
        check_refusal(ran);
        CHECK(ran.err.starts_with(section + ":1:1: the section file is larger than 20.0 MB"));
    }
}

TEST_CASE("unusual but sound files are read") {
    const Scratch scratch;
    const std::string plain =
        run({"match", scratch.write("plain.toml", sound_case()), "--json"}).out;
    REQUIRE_FALSE(plain.empty());
    SUBCASE("a byte order mark") {
        const Ran ran =
            run({"match", scratch.write("a.toml", "\xEF\xBB\xBF" + sound_case()), "--json"});
        CHECK(ran.status == 0);
        CHECK(ran.out == plain);
    }
    SUBCASE("line ends of another system") {
        std::string text;
        for (const char c : sound_case())
            text += c == '\n' ? "\r\n" : std::string(1, c);
        const Ran ran = run({"match", scratch.write("a.toml", text), "--json"});
        CHECK(ran.status == 0);
        CHECK(ran.out == plain);
    }
    SUBCASE("no line break at the end") {
        std::string text = sound_case();
        while (text.ends_with('\n'))
            text.pop_back();
        const Ran ran = run({"match", scratch.write("a.toml", text), "--json"});
        CHECK(ran.status == 0);
        CHECK(ran.out == plain);
    }
    SUBCASE("ten thousand stations") {
        std::string text =
            "[[propeller]]\nname = \"fine\"\ndiameter = \"136 cm\"\nblades = 2\nsection = "
            "\"clark-y\"\nstations = [\n";
        for (int i = 0; i < 10'000; ++i) {
            const double r = 150.0 + 0.0475 * i;
            text += fmt::format("[\"{:.4f} mm\", \"{:.3f} mm\", \"{:.4f} deg\"],\n", r,
                                90.0 - 0.08 * (r - 150.0), 1100.0 / r * 3.0);
        }
        const Ran ran = run({"curve", scratch.write("a.toml", text + "]\n"), "--advance-ratio=0"});
        INFO(ran.err);
        CHECK(ran.status == 0);
    }
    SUBCASE("more stations than a blade can have") {
        std::string text =
            "[[propeller]]\nname = \"fine\"\ndiameter = \"136 cm\"\nblades = 2\nstations = [\n";
        for (int i = 0; i < 100'001; ++i)
            text += "[\"1m\",\"1m\",\"1deg\"],\n";
        const std::string file = scratch.write("a.toml", text + "]\n");
        check_refusal_at(file, file + ":5:12", "at most 100000");
    }
}

// A slip of the finger anywhere gives an answer or a refusal in due form, and never anything else.
TEST_CASE("a sound case with bytes changed is answered or refused") {
    const Scratch scratch;
    const std::string text = sound_case() + "\n[model]\nannuli = 6\n";
    std::mt19937 generator(7);
    const auto random = [&] {
        return static_cast<unsigned>(generator());
    };
    const std::string letters = "\"[]{}=,.#\n 0129eE+-_a%x\\\t'";
    int refused = 0;
    constexpr int tries = often(1500);
    for (int i = 0; i < tries; ++i) {
        std::string changed = text;
        for (unsigned k = 1 + random() % 3U; k > 0; --k) {
            const std::size_t at = random() % changed.size();
            switch (random() % 3U) {
                case 0:
                    changed.erase(at, 1 + random() % 8U);
                    break;
                case 1:
                    changed[at] = letters[random() % letters.size()];
                    break;
                default:
                    changed.insert(at, 1, letters[random() % letters.size()]);
                    break;
            }
        }
        const Ran ran = run({"curve", scratch.write("a.toml", changed), "--advance-ratio=0"});
        if (ran.status == loadline::cli::status_wrong_input) {
            ++refused;
            check_refusal(ran);
        } else {
            CHECK_FALSE(ran.out.empty());
        }
    }
    fmt::print("{} of {} changed cases were refused\n", refused, tries);
    CHECK(refused > tries / 10);
}

TEST_CASE("a refused new leaves nothing behind") {
    const Scratch scratch;
    const std::string file = scratch.write("mine.toml", "mine\n");
    CHECK(run({"new", file}).status == 2);
    CHECK(read(file) == "mine\n");
    CHECK(run({"new", scratch.folder().string()}).status == 2);
    CHECK(run({"new", scratch.folder().string(), "--force"}).status == 2);
    const Ran nowhere = run({"new", (scratch.folder() / "no" / "a.toml").string()});
    CHECK(nowhere.status == 2);
    CHECK(nowhere.out.empty());
    CHECK(nowhere.err.find("cannot be written") != std::string::npos);
    CHECK(scratch.files() == 1);
}
