#include "loadline/words/emphasis.hpp"

namespace loadline {
namespace {

std::string between(char mark, std::string_view part) {
    return std::string(1, mark).append(part) + end_mark;
}

}  // namespace

std::string strong(std::string_view part) {
    return between(strong_mark, part);
}

std::string warned(std::string_view part) {
    return between(warned_mark, part);
}

std::string first_clause_warned(const std::string& line) {
    const std::size_t about = line.find(": ");
    const std::size_t from = about == std::string::npos ? 0 : about + 2;
    std::size_t to = from;
    for (int brackets = 0; to < line.size(); ++to) {
        brackets += line[to] == '(' ? 1 : line[to] == ')' ? -1 : 0;
        if (brackets == 0 && (line[to] == ':' || line[to] == ';') && line[to + 1] == ' ')
            break;
    }
    return warned(line.substr(0, to)) + line.substr(to);
}

std::string with(Marks marks, std::string sentence) {
    if (marks == Marks::none)
        std::erase_if(sentence,
                      [](char c) { return c == strong_mark || c == warned_mark || c == end_mark; });
    return sentence;
}

std::vector<std::string> with(Marks marks, std::vector<std::string> sentences) {
    for (std::string& sentence : sentences)
        sentence = with(marks, std::move(sentence));
    return sentences;
}

}  // namespace loadline
