document.title = "Leadsman";
