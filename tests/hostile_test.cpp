// Files from strangers: what they may not open, hang, hide or bring down. Sizes and depths at their
// edge.

#include "cli/file.hpp"
#include "loadline/case/case.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/section/outline.hpp"
#include "often.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <csignal>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <string>

using namespace loadline;
namespace fs = std::filesystem;

namespace {

const SectionFolders folders = {LOADLINE_ROOT "/airfoils"};

struct Folder {
    Folder() : path(fs::temp_directory_path() / fmt::format("hostile-{}", getpid())) {
        fs::remove_all(path);
        fs::create_directories(path / "case");
    }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    void write(const std::string& name, const std::string& text) const {
        fs::create_directories((path / name).parent_path());
        std::ofstream(path / name) << text;
    }
    fs::path path;
};

std::string slurp(const fs::path& file) {
    std::ifstream in(file);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::string blade(const std::string& section, const std::string& name = "P") {
    return fmt::format(
        "[[propeller]]\nname = \"{}\"\ndiameter = \"120 cm\"\nblades = 2\nsection = \"{}\"\n"
        "angle_reference = \"chord\"\nstations = [[\"15 cm\", \"9 cm\", \"24 deg\"], [\"58 cm\", "
        "\"4 cm\", \"9 deg\"]]\n",
        name, section);
}

std::string refusal(const std::string& text, const fs::path& file) {
    try {
        static_cast<void>(parse_case(text, file, folders));
        return {};
    } catch (const CaseError& error) {
        return error.what();
    }
}

std::string dotted(std::size_t parts) {
    std::string key = "a";
    for (std::size_t k = 1; k < parts; ++k)
        key += ".a";
    return key;
}

// Of this process, whatever else the machine has to do.
double seconds(const auto& work) {
    const std::clock_t from = std::clock();
    work();
    return static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
}

// A sound outline, upper face first.
std::vector<OutlinePoint> outline(double thickness, double camber) {
    std::vector<OutlinePoint> points;
    const auto at = [&](double x, double side) {
        return OutlinePoint{
            x, camber * 4.0 * x * (1.0 - x) + side * thickness * 1.3 * std::sqrt(x) * (1.0 - x)};
    };
    for (int i = 30; i >= 0; --i)
        points.push_back(at(i / 30.0, 1.0));
    for (int i = 1; i <= 30; ++i)
        points.push_back(at(i / 30.0, -1.0));
    return points;
}

}  // namespace

TEST_CASE("keys of many parts end at the limit, not on the stack") {
    for (const std::string& around :
         {std::string("{} = 1\n"), std::string("[{}]\nx = 1\n"), std::string("x = {{{} = 1}}\n")}) {
        const auto text = [&](std::size_t parts) {
            return blade("clark-y") + fmt::format(fmt::runtime(around), dotted(parts));
        };
        CHECK(refusal(text(most::depth + 1), "c.toml").find("parts") != std::string::npos);
        const std::string at_edge = refusal(text(most::depth), "c.toml");
        CHECK(at_edge.find("parts") == std::string::npos);
        const std::string beyond = refusal(text(30'000), "c.toml");
        CHECK(beyond.find("c.toml:") == 0);
        CHECK(beyond.find(fmt::format("more than {} parts", most::depth)) != std::string::npos);
    }
    // Dots in texts and numbers are no parts.
    CHECK(
        refusal("title = \"wait ........................ and see\"\n" + blade("clark-y"), "c.toml")
            .empty());
    for (const std::string& open : {std::string("["), std::string("{a=")}) {
        std::string text = "x = ";
        for (int k = 0; k < 30'000; ++k)
            text += open;
        CHECK(refusal(text, "c.toml").find("c.toml:1:") == 0);
    }
}

TEST_CASE("hundreds of thousands of unknown keys are refused at once") {
    const auto unknown = [](int keys) {
        std::string text;
        for (int k = 0; k < keys; ++k)
            text += fmt::format("k{} = {}\n", k, k);
        return text;
    };
    const std::string few = unknown(loadline::test::often(60'000));
    const std::string many = unknown(4 * loadline::test::often(60'000));
    REQUIRE(many.size() < most::case_size);
    std::string said;
    const double short_time = seconds([&] { said = refusal(few, "c.toml"); });
    const double time = seconds([&] { said = refusal(many, "c.toml"); });
    CHECK(said.find("c.toml:1:1: the case knows no \"k0\"") == 0);
    // Four times as many keys take four times as long, on any machine and under any sanitizer;
    // were each key looked for among all others it would be sixteen.
    CHECK(time < 8.0 * short_time);
#ifndef LOADLINE_SANITIZED
    CHECK(time < 5.0);
#endif
    const std::string edge = blade("clark-y") + "#";
    CHECK(refusal(edge + std::string(most::case_size - edge.size(), 'x'), "c.toml").empty());
    CHECK(refusal(edge + std::string(most::case_size - edge.size() + 1, 'x'), "c.toml")
              .find("larger") != std::string::npos);
}

TEST_CASE("a case opens sections of its own folder, of the airfoils and of folders named") {
    const Folder f;
    const std::string sound = slurp(LOADLINE_ROOT "/airfoils/clark-y/section.csv");
    f.write("elsewhere/section.csv", sound);
    f.write("case/below/tip.csv", sound);
    const fs::path here = f.path / "case" / "c.toml";
    CHECK(refusal(blade("below/tip.csv"), here).empty());
    CHECK(refusal(blade("clark-y"), here).empty());
    for (const std::string& name :
         {std::string("../elsewhere"), std::string("../elsewhere/section.csv"),
          (f.path / "elsewhere").string(), std::string("/etc/passwd"),
          std::string("../../../../../../etc/passwd")}) {
        const std::string said = refusal(blade(name), here);
        CHECK(said.find("lies outside") != std::string::npos);
        CHECK(said.find("--airfoils") != std::string::npos);
        CHECK(said.find("root:") == std::string::npos);
    }
    fs::create_symlink(f.path / "elsewhere", f.path / "case" / "link");
    CHECK(refusal(blade("link"), here).find("lies outside") != std::string::npos);
    SectionFolders named = folders;
    named.push_back(f.path / "elsewhere");
    CHECK_NOTHROW(static_cast<void>(parse_case(blade("../elsewhere"), here, named)));
}

TEST_CASE("pipes stand for no section and no outline") {
    const Folder f;
    f.write("case/s/section.csv", slurp(LOADLINE_ROOT "/airfoils/clark-y/section.csv"));
    REQUIRE(mkfifo((f.path / "case/s/outline.csv").c_str(), 0600) == 0);
    REQUIRE(mkfifo((f.path / "case/tip.csv").c_str(), 0600) == 0);
    const fs::path here = f.path / "case" / "c.toml";
    CHECK(refusal(blade("s"), here).empty());  // as if there were none
    CHECK_FALSE(refusal(blade("tip.csv"), here).empty());
    CHECK_THROWS_AS(static_cast<void>(read_measured_blade(f.path / "case/tip.csv")), CaseError);
    CHECK_THROWS_AS(static_cast<void>(read_measured_curve(f.path / "case/tip.csv")), CaseError);
    CHECK_THROWS_AS(static_cast<void>(read_section(f.path / "case/tip.csv")), CaseError);
}

TEST_CASE("a section has the Reynolds numbers that were measured, and its own outline") {
    const Folder f;
    const fs::path here = f.path / "case" / "c.toml";
    const auto table = [](std::size_t numbers) {
        std::string text = "reynolds,alpha_deg,cl,cd\n";
        for (std::size_t k = 0; k < numbers; ++k)
            for (const char* row : {"-4,-0.2,0.02", "0,0.2,0.02", "8,0.9,0.03"})
                text += fmt::format("{},{}\n", 10'000 + 100 * k, row);
        return text;
    };
    f.write("case/s/section.csv", table(most::reynolds_numbers));
    CHECK(refusal(blade("s"), here).empty());
    f.write("case/s/section.csv", table(most::reynolds_numbers + 1));
    CHECK(refusal(blade("s"), here).find("more than 200 Reynolds numbers") != std::string::npos);
    // A link out of the folder is no outline of it.
    f.write("secret.csv", "root:x:0:0\n");
    f.write("case/s/section.csv", slurp(LOADLINE_ROOT "/airfoils/clark-y/section.csv"));
    fs::create_symlink(f.path / "secret.csv", f.path / "case/s/outline.csv");
    CHECK(refusal(blade("s"), here).empty());
}

TEST_CASE("outlines are checked: order, size, thickness") {
    CHECK_FALSE(check_outline(outline(0.12, 0.03)));
    const auto fault = [](const std::vector<OutlinePoint>& points) {
        const auto found = check_outline(points);
        return found ? found->what : std::string();
    };
    std::vector<OutlinePoint> turned = outline(0.12, 0.03);
    std::reverse(turned.begin(), turned.end());
    CHECK(fault(turned) == "the lower face stands first");
    std::vector<OutlinePoint> tall = outline(0.12, 0.03);
    for (OutlinePoint& p : tall)
        p.y *= 6.0;
    CHECK(fault(tall).find("% thick") != std::string::npos);
    CHECK(fault(outline(0.0, 0.03)).find("is none") != std::string::npos);
    CHECK(fault(outline(0.12, 0.3)).find("% camber") != std::string::npos);
    std::vector<OutlinePoint> crossed = outline(0.12, 0.0);
    for (std::size_t i = 0; i < crossed.size(); ++i)
        if (crossed[i].x > 0.5)
            crossed[i].y = -crossed[i].y;
    CHECK(fault(crossed) == "the faces cross");
    CHECK_FALSE(fault(std::vector<OutlinePoint>(20, {0.3, 0.1})).empty());
    CHECK_FALSE(fault({{0.0, 0.0}, {1.0, 0.0}}).empty());
    // Every outline that comes with the program is sound.
    for (const SectionData& section : read_sections(folders))
        if (!section.outline.empty())
            CHECK_MESSAGE(!check_outline(section.outline), section.name);
}

TEST_CASE("a name hides nothing and turns no line round") {
    for (const char* hidden : {"\u0085", "\u009B31m", "\u202E", "\u2066", "\u200B", "\u2060",
                               "\uFEFF", "\u2028", "\u00AD", "\U000E0041", "\x1b[2J"}) {
        const std::string name = std::string("Al") + hidden + "der";
        CHECK(has_control_character(name));
        CHECK(quotable(name).find(hidden) == std::string::npos);
        CHECK(for_terminal(name).find(hidden) == std::string::npos);
        if (hidden[0] != '\x1b')
            CHECK_FALSE(refusal(blade("clark-y", name), "c.toml").empty());
    }
    // As long as may be counts letters, not the bytes they take.
    for (const char* letter : {"a", "ж", "楊", "\U0001F6E9"}) {
        std::string name;
        for (std::size_t k = 0; k < most::name_length; ++k)
            name += letter;
        CHECK(characters_in(name) == most::name_length);
        CHECK(refusal(blade("clark-y", name), "c.toml").empty());
        CHECK(refusal(blade("clark-y", name + letter), "c.toml").find("longer than 200 letters") !=
              std::string::npos);
    }
    // Letters of every script, and the joiners some of them need, are a name.
    for (const char* name : {"Erle Größe 3", "ольха", "赤楊", "توسكا", "می\u200Cروم"})
        CHECK(refusal(blade("clark-y", name), "c.toml").empty());
    CHECK(for_terminal("a\tb\nc") == "a\tb\nc");
    CHECK(for_terminal("\xff") == "?");
}

TEST_CASE("a case that was read is answered, or told at its line") {
    using loadline::test::replaced;
    const std::string sound = slurp(LOADLINE_ROOT "/cases/paraglider.toml");
    const Folder f;
    const std::string hot =
        replaced(replaced(replaced(sound, "\"120 m\"", "\"4300 m\""), "\"18 degC\"", "\"29 degC\""),
                 "qnh = \"1015 hPa\"", "");
    const std::vector<std::string> cases = {
        replaced(sound, "diameter = \"136 cm\"", "diameter = \"136 in\""),
        replaced(sound, "idle = \"2300 rpm\"", "idle = \"2300 rpm\"\nthrottle = \"10 %\""),
        replaced(sound, "elevation = \"120 m\"", "elevation = \"11000 m\""),
        replaced(sound, "elevation = \"120 m\"", "elevation = \"6000 m\""),
        replaced(replaced(sound, "fuel = \"3.6 L/h\"", "fuel = \"200 L/h\""), "to = \"600 m\"",
                 "to = \"5000 m\""),
        replaced(replaced(sound, "elevation = \"120 m\"", "elevation = \"6000 m\""),
                 "to = \"600 m\"", "to = \"6000 m\""),
        hot};
    int turn = 0;
    for (const std::string& text : cases) {
        f.write("c.toml", text + "\n[model]\nannuli = 6\n");  // where each blade is quickly solved
        const std::string file = (f.path / "c.toml").string();
        for (const char* command : {"compare", "lesson", "match", "curve", "blade"}) {
            if (++turn % 3 != 0 && loadline::test::slower > 1)
                continue;  // each command comes round with another case
            const auto ran =
                loadline::test::run(std::string(command) == "lesson"
                                        ? std::vector<std::string>{command, file, "--page",
                                                                   (f.path / "l.html").string()}
                                        : std::vector<std::string>{command, file});
            INFO(command, " of\n", text.substr(0, 400), ran.err);
            CHECK(ran.status <= 2);
            CHECK(ran.err.find("correct this value") == std::string::npos);
            if (ran.status == 2)
                CHECK(ran.err.find(file + ":") == 0);
        }
    }
}

TEST_CASE(
    "a page is written over a page of its own, over others when told, never over what is read") {
    const Folder f;
    const std::string sound = slurp(LOADLINE_ROOT "/cases/paraglider.toml");
    f.write("case/c.toml", sound);
    const std::string file = (f.path / "case/c.toml").string();
    const std::string page = (f.path / "case/p.html").string();
    const auto match = [&](const std::string& to, bool force = false) {
        std::vector<std::string> args = {"match", file, "--no-band", "--page", to};
        if (force)
            args.emplace_back("--force");
        return loadline::test::run(args);
    };
    for (const bool force : {false, true}) {
        const auto ran = match(file, force);
        CHECK(ran.status == 2);
        CHECK(ran.err.find("is what is read") != std::string::npos);
        CHECK(slurp(file) == sound);
    }
    fs::create_hard_link(file, f.path / "case/same.html");
    CHECK(match((f.path / "case/same.html").string(), true).status == 2);
    CHECK(match(page).status == 0);
    fs::permissions(page, fs::perms::owner_read | fs::perms::owner_write);
    CHECK(match(page).status == 0);
    CHECK((fs::status(page).permissions() & fs::perms::all) ==
          (fs::perms::owner_read | fs::perms::owner_write));
    fs::permissions(page, fs::perms::owner_read);
    CHECK(match(page, true).status == 2);
    f.write("case/s/section.csv", "reynolds");
    CHECK(match((f.path / "case/s/section.csv").string(), true).status == 2);
    CHECK(slurp(f.path / "case/s/section.csv") == "reynolds");
    f.write("case/notes.html", "<p>mine</p>");
    const std::string notes = (f.path / "case/notes.html").string();
    CHECK(match(notes).err.find("--force") != std::string::npos);
    CHECK(slurp(notes) == "<p>mine</p>");
    CHECK(match(notes, true).status == 0);
    CHECK(slurp(notes).find("<!DOCTYPE html>") == 0);
    REQUIRE(mkfifo((f.path / "case/pipe").c_str(), 0600) == 0);
    fs::create_symlink("notes.html", f.path / "case/link.html");
    for (const char* name : {"case/pipe", "case/link.html"})
        CHECK(match((f.path / name).string(), true).status == 2);
    CHECK(fs::is_symlink(f.path / "case/link.html"));
    CHECK(fs::is_fifo(f.path / "case/pipe"));
}

TEST_CASE("a signal leaves no draft behind") {
    const Folder f;
    const std::string text(3'000'000, 'x');
    const std::string file = (f.path / "out.html").string();
    for (int round = 0; round < 12; ++round) {
        // Held until the child is ready for them.
        sigset_t ending, before;
        sigemptyset(&ending);
        sigaddset(&ending, SIGTERM);
        sigaddset(&ending, SIGINT);
        pthread_sigmask(SIG_BLOCK, &ending, &before);
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            for (const int which : {SIGTERM, SIGINT})
                std::signal(which, SIG_DFL);
            pthread_sigmask(SIG_SETMASK, &before, nullptr);
            for (;;)
                loadline::cli::write_file(file, text, true);
        }
        pthread_sigmask(SIG_SETMASK, &before, nullptr);
        usleep(static_cast<useconds_t>(3000 + 1700 * round));
        kill(child, round % 2 == 0 ? SIGTERM : SIGINT);
        int status = 0;
        waitpid(child, &status, 0);
        CHECK(WIFSIGNALED(status));
        int files = 0;
        for (const auto& entry : fs::directory_iterator(f.path))
            files += entry.is_regular_file() && entry.path() != file;
        CHECK(files == 0);
    }
    CHECK(fs::file_size(file) == text.size());
}

TEST_CASE("a sheet holds no formula, a terminal no turned line") {
    const Folder f;
    std::string text = slurp(LOADLINE_ROOT "/cases/paraglider.toml");
    text = loadline::test::replaced(text, "\"Alder 141 fine\"", "\"=2+5\"");
    text = loadline::test::replaced(text, "\"Sorrel 136 swept\"", "\"@SUM(A1)\"");
    const std::string folder = "case/\x1b[31m\u202E";
    f.write(folder + "/c.toml", text);
    const std::string file = (f.path / folder / "c.toml").string();
    const auto sheet = loadline::test::run({"compare", file, "--csv", "--no-band"});
    CHECK(sheet.status == 0);
    CHECK(sheet.out.find("\n'=2+5,") != std::string::npos);
    CHECK(sheet.out.find("\n'@SUM(A1),") != std::string::npos);
    const auto wrong = loadline::test::run({"match", file + "x"});
    CHECK(wrong.status == 2);
    CHECK(wrong.err.find('\x1b') == std::string::npos);
    CHECK(wrong.err.find("\u202E") == std::string::npos);
}

TEST_CASE("scripts of a page run by their hash alone" * doctest::test_suite("answers")) {
    const Folder f;
    f.write("c.toml", slurp(LOADLINE_ROOT "/cases/demo.toml") + "\n[model]\nannuli = 6\n");
    const std::string page = (f.path / "p.html").string();
    REQUIRE(loadline::test::run({"lesson", (f.path / "c.toml").string(), "--page", page}).status ==
            0);
    const std::string html = slurp(page);
    const std::size_t from = html.find("script-src ");
    const std::string policy = html.substr(from, html.find(';', from) - from);
    CHECK(policy.find("unsafe") == std::string::npos);
    CHECK(policy.find("'sha256-") != std::string::npos);
}
