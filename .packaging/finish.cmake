# SPDX-License-Identifier: GPL-3.0-or-later
# What a Debian package has besides what is installed: its licence, its changelog, packed manual pages; and one time
# for all of its files, so that a package is the same whenever it is made. CPack runs it before it packs.

if(NOT DEFINED ENV{SOURCE_DATE_EPOCH}) # then the day of the newest entry of the changelog
	execute_process(COMMAND dpkg-parsechangelog -l ${CPACK_RN_PACKAGING}/changelog -S Timestamp
		OUTPUT_VARIABLE epoch OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
	set(ENV{SOURCE_DATE_EPOCH} ${epoch})
endif()

foreach(component ${CPACK_COMPONENTS_ALL})
	string(TOUPPER ${component} upper)
	set(root ${CPACK_TEMPORARY_DIRECTORY}/${component})
	set(doc ${root}/usr/share/doc/${CPACK_DEBIAN_${upper}_PACKAGE_NAME})
	file(MAKE_DIRECTORY ${doc})
	file(COPY ${CPACK_RN_PACKAGING}/copyright ${CPACK_RN_PACKAGING}/changelog DESTINATION ${doc})
	file(GLOB pages ${root}/usr/share/man/man*/*)
	execute_process(COMMAND gzip -9nf ${doc}/changelog ${pages} COMMAND_ERROR_IS_FATAL ANY)
	execute_process(COMMAND chmod -R u=rwX,go=rX ${root} COMMAND_ERROR_IS_FATAL ANY)
	execute_process(COMMAND find ${root} -exec touch -hd @$ENV{SOURCE_DATE_EPOCH} {} + COMMAND_ERROR_IS_FATAL ANY)
endforeach()
