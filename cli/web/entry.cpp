// The program as a page calls it: one command line at a time.

#include "cli/run.hpp"

#include <sys/stat.h>
#include <exception>
#include <sstream>
#include <string>
#include <vector>

namespace {

std::string out_text, err_text;

}  // namespace

extern "C" {

/// Runs one command line, its words parted by line feeds; the exit status.
int loadline_run(const char* words) {
    ::umask(0022);  // of a page's own file system it begins as 0777
    std::vector<std::string> args;
    std::istringstream lines(words);
    for (std::string word; std::getline(lines, word);)
        args.push_back(word);
    std::ostringstream out, err;
    int status = loadline::cli::status_wrong_input;
    try {
        status = loadline::cli::run(args, out, err);
    } catch (const std::exception& error) {
        err << "loadline: stopped by a fault of the program (" << error.what() << ")\n";
    }
    out_text = out.str();
    err_text = err.str();
    return status;
}

/// What it wrote, until the next is run.
const char* loadline_out() {
    return out_text.c_str();
}
const char* loadline_err() {
    return err_text.c_str();
}
}
