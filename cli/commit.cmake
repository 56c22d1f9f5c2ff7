# Which commit the sources are of: sets `out` to "commit 0123456789ab", with " and changes" behind it where files
# differ from it, or to "unknown commit" where the sources do not lie in a repository of their own; and `out`_date to its
# date, or to that of the configuration.
function(loadline_commit out)
    set(${out} "unknown commit" PARENT_SCOPE)
    string(TIMESTAMP now "%a, %d %b %Y %H:%M:%S +0000" UTC)
    set(${out}_date "${now}" PARENT_SCOPE)
    find_program(LOADLINE_GIT git)
    if(NOT LOADLINE_GIT OR NOT EXISTS ${CMAKE_CURRENT_SOURCE_DIR}/.git)
        return()
    endif()
    set(git ${LOADLINE_GIT} -C ${CMAKE_CURRENT_SOURCE_DIR})
    execute_process(COMMAND ${git} rev-parse --short=12 HEAD
                    OUTPUT_VARIABLE commit RESULT_VARIABLE failed ERROR_QUIET OUTPUT_STRIP_TRAILING_WHITESPACE)
    if(failed)
        return()
    endif()
    execute_process(COMMAND ${git} status --porcelain --untracked-files=no
                    OUTPUT_VARIABLE changes ERROR_QUIET OUTPUT_STRIP_TRAILING_WHITESPACE)
    if(changes)
        string(APPEND commit " and changes")
    endif()
    set(${out} "commit ${commit}" PARENT_SCOPE)
    execute_process(COMMAND ${git} log -1 --format=%aD OUTPUT_VARIABLE date OUTPUT_STRIP_TRAILING_WHITESPACE)
    set(${out}_date "${date}" PARENT_SCOPE)
    # A new commit is found by the next build, not only by the next configuration.
    execute_process(COMMAND ${git} rev-parse --path-format=absolute --git-path logs/HEAD
                    OUTPUT_VARIABLE log ERROR_QUIET OUTPUT_STRIP_TRAILING_WHITESPACE)
    if(EXISTS "${log}")
        set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${log}")
    endif()
endfunction()
