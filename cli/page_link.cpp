#include "cli/page_link.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>

namespace loadline::cli {
namespace {

constexpr const char* one_page = "loadline.html";
constexpr std::size_t longest_case = 60'000;  // bytes, our choice: browsers take more

}  // namespace

std::string base64(std::string_view bytes, bool in_address) {
    std::string letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789";
    letters += in_address ? "-_" : "+/";
    std::string out;
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        const std::string_view three = bytes.substr(at, 3);
        unsigned bits = 0;
        for (std::size_t i = 0; i < 3; ++i)
            bits = bits << 8U | (i < three.size() ? static_cast<unsigned char>(three[i]) : 0U);
        for (std::size_t i = 0; i <= three.size(); ++i)
            out += letters[bits >> (18U - 6U * i) & 63U];
        if (!in_address)
            out.append(3 - three.size(), '=');
    }
    return out;
}

std::string link_to_change(const std::string& page, const std::string& case_file,
                           std::string_view question) {
    std::error_code none;
    const std::filesystem::path beside = std::filesystem::path(page).replace_filename(one_page);
    if (case_file == "-" || std::filesystem::path(page).filename() == one_page ||
        !std::filesystem::is_regular_file(beside, none) ||
        !std::filesystem::is_regular_file(case_file, none) ||
        std::filesystem::file_size(case_file, none) > longest_case)
        return {};
    std::ifstream in(case_file, std::ios::binary);
    const std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    return std::string(one_page) + "#q=" + std::string(question) + "&t=" + base64(text, true);
}

}  // namespace loadline::cli
