#include "cli/run.hpp"

#include <exception>
#include <iostream>
#include <new>

int main(int argc, char** argv) {
    try {
        return loadline::cli::run({argv + (argc > 0 ? 1 : 0), argv + argc}, std::cout, std::cerr);
    } catch (const std::bad_alloc&) {
        std::cerr << "loadline: the memory of this machine is not enough for the case; give fewer "
                     "stations or points\n";
    } catch (const std::exception& error) {
        std::cerr << "loadline: stopped by a fault of the program (" << error.what()
                  << "); please report it with the case file\n";
    }
    return loadline::cli::status_wrong_input;
}
