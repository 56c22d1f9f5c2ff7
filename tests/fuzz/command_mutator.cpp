// How the command fuzzer changes a case: line by line, with the program's own keys and units, so
// that most of what it makes still reads.

#include "held.hpp"

#include <array>
#include <cstdio>
#include <cstring>
#include <random>
#include <string>
#include <vector>

// NOLINTNEXTLINE: the name is the tool's
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed);

namespace {

#include "fuzz_words.inc"

using Lines = std::vector<std::string>;

class Mutator {
public:
    explicit Mutator(unsigned seed) : random_(seed) {}

    std::string change(const std::string& text) {
        Lines lines = split(text);
        for (int k = 1 + below(3); k > 0; --k)
            change(lines);
        std::string changed;
        for (const std::string& line : lines)
            changed += line + "\n";
        return changed;
    }

private:
    int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
    template <class List>
    std::string any(const List& list) {
        return std::string(list[static_cast<std::size_t>(below(static_cast<int>(list.size())))]);
    }

    static Lines split(const std::string& text) {
        Lines lines;
        std::size_t from = 0;
        while (from < text.size()) {
            const std::size_t end = std::min(text.find('\n', from), text.size());
            lines.push_back(text.substr(from, end - from));
            from = end + 1;
        }
        if (lines.empty() || !lines.front().starts_with("#?"))
            lines.insert(lines.begin(), "#? match");
        return lines;
    }

    std::string question() {
        static const std::array<const char*, 25> questions = {
            "match",
            "match --json",
            "match --no-band",
            "match --json --no-band",
            "match --speeds=0,5,40m/s",
            "match --units=imperial",
            "curve",
            "curve --json",
            "curve --no-band",
            "curve --rpm=2000 --advance-ratio=0,0.2,1.5 --json",
            "blade",
            "blade --json",
            "blade --at=climb",
            "blade --at=cruise --json",
            "blade --worksheet",
            "blade --rpm=2500 --speed=30m/s",
            "compare --no-band",
            "compare --json --no-band",
            "compare --csv --no-band",
            "compare --no-band --units=imperial",
            "trial",
            "fit",
            "trial --json",
            "trial --csv",
            "trial --plan --difference=0.2m/s"};
        return "#? " + any(questions);
    }

    std::string number() {
        static const std::array<const char*, 30> numbers = {
            "0",     "1",    "-1",   "2",    "3",    "0.5",   "0.001", "1e-6", "1e-12", "1e6",
            "1e300", "-0.0", "10",   "12",   "25",   "60",    "90",    "100",  "150",   "200",
            "400",   "1000", "2500", "5000", "9000", "20000", "0.97",  "1.5",  "45",    "7.3"};
        return any(numbers);
    }

    // The numbers of a line, from where to where.
    static std::vector<std::pair<std::size_t, std::size_t>> numbers_of(const std::string& line) {
        std::vector<std::pair<std::size_t, std::size_t>> found;
        for (std::size_t i = 0; i < line.size();) {
            const std::size_t from = line.find_first_of("0123456789", i);
            if (from == std::string::npos)
                break;
            i = std::min(line.find_first_not_of("0123456789.", from), line.size());
            found.emplace_back(from, i);
        }
        return found;
    }

    void change_number(std::string& line) {
        const auto numbers = numbers_of(line);
        if (numbers.empty())
            return;
        const auto [from, to] =
            numbers[static_cast<std::size_t>(below(static_cast<int>(numbers.size())))];
        std::string other = number();
        if (below(3) != 0) {
            static const std::array<double, 8> factors = {0.1,  0.5, 0.9, 0.99,
                                                          1.01, 1.1, 2.0, 10.0};
            const double value = std::strtod(line.substr(from, to - from).c_str(), nullptr);
            std::array<char, 40> printed{};
            std::snprintf(printed.data(), printed.size(), "%.5g",
                          value * factors[static_cast<std::size_t>(below(8))]);
            other = printed.data();
        }
        line.replace(from, to - from, other);
    }

    void change_unit(std::string& line) {
        const auto numbers = numbers_of(line);
        if (numbers.empty())
            return;
        const std::size_t to =
            numbers[static_cast<std::size_t>(below(static_cast<int>(numbers.size())))].second;
        const std::size_t end = line.find('"', to);
        if (end != std::string::npos)
            line.replace(to, end - to, " " + any(known_units));
    }

    std::string value() {
        switch (below(6)) {
            case 0:
                return number();
            case 1:
                return below(2) == 0 ? "true" : "false";
            case 2:
                return '"' + any(known_keys) + '"';
            case 3:
                return '"' + any(known_sections) + '"';
            default:
                return '"' + number() + ' ' + any(known_units) + '"';
        }
    }

    void change(Lines& lines) {
        const auto size = static_cast<int>(lines.size());
        const auto at = static_cast<std::size_t>(below(size));
        std::string& line = lines[at];
        const int what = below(20);
        if (what == 0 || at == 0) {
            lines.front() = question();
        } else if (what < 10) {
            change_number(line);
        } else if (what < 13) {
            change_unit(line);
        } else if (what < 14) {
            lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
        } else if (what < 15) {
            lines.insert(lines.begin() + below(size), line);
        } else if (what < 17) {
            const std::size_t equals = line.find('=');
            if (equals != std::string::npos)
                line.replace(equals + 1, std::string::npos, ' ' + value());
        } else if (what < 19) {
            lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at),
                         any(known_keys) + " = " + value());
        } else {
            lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at),
                         '[' + any(known_keys) + ']');
        }
    }

    std::minstd_rand random_;
};

}  // namespace

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
    if (seed % 16U == 0U)
        return LLVMFuzzerMutate(data, size, most);
    const std::string changed = Mutator(seed).change(loadline::fuzz::text_of(data, size));
    const std::size_t length = std::min(changed.size(), most);
    std::memcpy(data, changed.data(), length);
    return length;
}
